"""Which crew works on which aircraft and shift, for some weeks of the plan."""

import tempfile
from datetime import timedelta
from functools import partial
from pathlib import Path

import streamlit as st

from capacity.crews.assign import Staffed
from capacity.crews.crew_settings import CrewSettings
from capacity.reports.crews.text import crews_in_words
from capacity.reports.crews.workbook import shift_lists, write_crews_workbook
from capacity.reports.plan.view import View
from capacity.words import day as as_day
from ui.desk.desk import Desk
from ui.desk.session import watched
from ui.manager.crew_job import CREWS, crews_of, start_crews
from ui.parts.editor import EXCEL
from ui.parts.running import show_work_of
from ui.printing.shift import file_name_of, shift_page

MOST_WEEKS = 6
SECONDS = 60.0


def show_crews(view: View, desk: Desk) -> None:
    """Show the question for crews of some weeks and, once it is answered, the answer."""
    st.subheader("Crews by aircraft and shift")
    st.caption(
        f"For some weeks of this plan, in about {SECONDS:.0f} s. The lists are a proposal: the "
        "shift lead sees who is there, fit for the work and authorised."
    )
    with st.container(horizontal=True, vertical_alignment="bottom"):
        first = st.date_input(
            "From",
            view.base.first_day,
            min_value=view.base.first_day,
            max_value=view.base.last_in_day - timedelta(days=6),
            format="YYYY-MM-DD",
            width=180,
        )
        weeks = st.number_input("Weeks", 1, MOST_WEEKS, 2, width=140)
        st.button(
            "Put crews on aircraft",
            icon=":material/assignment_ind:",
            disabled=desk.is_working,
            on_click=_start,
            args=(desk, CrewSettings(weeks=weeks, first_day=first, seconds=SECONDS)),
        )
    show_work_of(desk, CREWS)
    staffed = crews_of(desk)
    if staffed is None:
        return
    st.text(crews_in_words(staffed, view.base))
    _show_lists(staffed, view)


@st.fragment
def _show_lists(staffed: Staffed, view: View) -> None:
    """Show the workbook of all lists and, beside it, a page to print of one day and shift."""
    with st.container(horizontal=True, vertical_alignment="bottom"):
        st.download_button(
            "Shift lists (.xlsx)",
            partial(_bytes, staffed, view),
            file_name="shift-lists.xlsx",
            mime=EXCEL,
            on_click="ignore",
            icon=":material/download:",
        )
        lists = shift_lists(staffed, view.outcome.plan, view.base)
        if not lists:
            return
        days = list(dict.fromkeys(one.day for one in lists))
        day = st.selectbox("Day to print", days, format_func=as_day, width=200)
        of_day = {one.shift: one for one in lists if one.day == day}
        shift = st.selectbox("Shift to print", list(of_day), width=160)
        chosen = of_day[shift]
        st.download_button(
            "Page to print (.html)",
            partial(shift_page, chosen, view.base.name, view.outcome.plan),
            file_name=file_name_of(chosen),
            mime="text/html",
            on_click="ignore",
            icon=":material/print:",
        )


def _start(desk: Desk, settings: CrewSettings) -> None:
    watched(desk, start_crews(desk, settings))


def _bytes(staffed: Staffed, view: View) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "shift-lists.xlsx"
        write_crews_workbook(view.base, staffed, view.outcome.plan, path)
        return path.read_bytes()
