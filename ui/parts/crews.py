"""Which crew works on which aircraft and shift, for some weeks of the plan."""

from collections.abc import Iterable, Sequence
from datetime import date
from functools import partial

import streamlit as st

from capacity.crews.assign import Staffed
from capacity.crews.crew_settings import CrewSettings, OwnStaffShare
from capacity.facts import Base
from capacity.reports.crews.workbook import (
    FATIGUE,
    SHARED_PEOPLE,
    ShiftList,
    crews_workbook,
    shift_lists,
)
from capacity.reports.plan.view import View
from capacity.words import day as as_day
from ui.desk.desk import Desk
from ui.desk.once_a_run import once_a_run
from ui.desk.session import watched
from ui.manager.crew_calendars import calendars_archive
from ui.manager.crew_job import CREWS, crew_answer, start_crews
from ui.manager.crew_rows import (
    ALL,
    Wanted,
    crew_week_rows,
    goal_rows,
    line_rows,
    moved_rows,
    not_covered_rows,
)
from ui.manager.crew_words import NOTHING_BETTERED, STOPPED, crew_sentences
from ui.parts.editor import EXCEL
from ui.parts.running import show_work_of
from ui.parts.tables import show_table
from ui.plain import plain
from ui.printing.shift import file_name_of, shift_page, shift_pages

MOST_WEEKS = 13
MOST_SECONDS = 3600
DEFAULTS = CrewSettings(weeks=2)
ALL_DAYS = "all days"
OWN_STAFF = {
    OwnStaffShare.HOLD: "hold: own staff are at least half",
    OwnStaffShare.WARN: "warn where they are not",
    OwnStaffShare.OFF: "off",
}


def show_crews(view: View, desk: Desk) -> None:
    """Show the question for crews of some weeks and, once it is answered, the answer."""
    st.header("Crews by aircraft and shift")
    st.caption(
        "The lists are a proposal: the shift lead sees who is there, fit for the work and "
        "authorised. A first crew plan is there in seconds; the time is for making it better."
    )
    settings = _settings(view.base)
    with st.container(horizontal=True, vertical_alignment="bottom"):
        st.button(
            "Put crews on aircraft",
            type="primary",
            icon=":material/assignment_ind:",
            disabled=desk.is_working,
            on_click=_start,
            args=(desk, settings),
        )
    show_work_of(desk, CREWS)
    answer = crew_answer(desk)
    if answer is None:
        return
    staffed, plan = answer.staffed, view.outcome.plan
    lists = once_a_run("shift lists", answer.number, lambda: shift_lists(staffed, plan, view.base))
    _show_results(staffed, view.base, was_stopped=answer.was_stopped)
    _show_downloads(staffed, view)
    _show_lists(lists, view)
    _show_details(staffed, view.base)


def _settings(base: Base) -> CrewSettings:
    """Return what the fields say."""
    begins = max(base.first_day, base.work_counts_from or base.first_day)
    last = base.last_in_day
    with st.container(horizontal=True, vertical_alignment="bottom"):
        first: date = st.date_input(
            "First day to staff",
            min(begins, last),
            min_value=base.first_day,
            max_value=last,
            format="YYYY-MM-DD",
            width=170,
        )
        weeks = st.number_input("Weeks to staff", 1, MOST_WEEKS, DEFAULTS.weeks, width=140)
        seconds = st.number_input(
            "Seconds for the crew plan",
            1,
            MOST_SECONDS,
            int(DEFAULTS.seconds),
            width=200,
            help="Stopped or short of time, it keeps the best crew plan found until then. Why more "
            "is bought than in the slot plan may take half as long on top.",
        )
        overtime = st.number_input(
            "Overtime per person and shift (h)",
            0.0,
            8.0,
            DEFAULTS.overtime_hours,
            0.5,
            width=240,
            help="Attended hours that a person may stay longer, at most.",
        )
        share = st.selectbox(
            "Own-staff share",
            list(OWN_STAFF),
            list(OWN_STAFF).index(DEFAULTS.own_staff_share),
            format_func=lambda mode: OWN_STAFF[mode],
            width=280,
            help="Own staff are at least half of each hangar and shift: hold it, warn, or neither.",
        )
        call_in = st.checkbox(
            "People may be called in",
            DEFAULTS.call_in,
            help="On a day off, each person once in seven days at most.",
        )
    return CrewSettings(
        weeks=int(weeks),
        first_day=first,
        seconds=float(seconds),
        own_staff_share=share,
        overtime_hours=float(overtime),
        call_in=call_in,
    )


def _start(desk: Desk, settings: CrewSettings) -> None:
    watched(desk, start_crews(desk, settings))


def _show_results(staffed: Staffed, base: Base, *, was_stopped: bool) -> None:
    for sentence in crew_sentences(staffed, base):
        st.text(sentence)
    if was_stopped:
        st.warning(STOPPED, icon=":material/stop_circle:")
    if staffed.goals:
        show_table(goal_rows(staffed.goals), wraps=True)
    else:
        st.warning(NOTHING_BETTERED, icon=":material/hourglass_bottom:")
    if warnings := staffed.audit.warnings:
        with st.expander(f"Cautions ({len(warnings)})", icon=":material/warning:"):
            show_table([{"Caution": warning} for warning in warnings], wraps=True)


def _show_downloads(staffed: Staffed, view: View) -> None:
    base, plan = view.base, view.outcome.plan
    with st.container(horizontal=True):
        st.download_button(
            "Crew workbook (.xlsx)",
            partial(crews_workbook, staffed, plan, base),
            file_name="crews.xlsx",
            mime=EXCEL,
            on_click="ignore",
            icon=":material/download:",
        )
        st.download_button(
            "Calendars of the crews (.zip)",
            partial(calendars_archive, staffed, base),
            file_name="crew-calendars.zip",
            mime="application/zip",
            on_click="ignore",
            icon=":material/download:",
            help="One calendar feed (.ics) for each crew: a shift is an event, with its aircraft.",
        )


@st.fragment
def _show_lists(lists: Sequence[ShiftList], view: View) -> None:
    """Show who works on what, by day, shift and crew, and a page to print of a day and shift."""
    st.markdown("**Shift lists**")
    if not lists:
        st.text("Nobody is at work in these weeks.")
        return
    days = list(dict.fromkeys(one.day for one in lists))
    with st.container(horizontal=True, vertical_alignment="bottom"):
        day = st.selectbox(
            "Day", [*days, ALL_DAYS], format_func=_day_or_all, width=200, key="shift list day"
        )
        of_day = [one for one in lists if day in (ALL_DAYS, one.day)]
        shift = _one_of("Shift", (one.shift for one in of_day), 140)
        of_shift = [one for one in of_day if shift in (ALL, one.shift)]
        lines = [line for one in of_shift for line in one.lines]
        crew = _one_of("Crew", (line.crew for line in lines), 200)
        check = _one_of("Check", (line.check for line in lines), 200)
        for one in of_shift if day != ALL_DAYS else ():
            st.download_button(
                f"Print shift {plain(one.shift)} (.html)",
                partial(shift_page, one, view.base.name, view.outcome.plan),
                file_name=file_name_of(one),
                mime="text/html",
                on_click="ignore",
                icon=":material/print:",
            )
        if len(of_shift) > 1:
            st.download_button(
                "Print these shift lists (.html)",
                partial(shift_pages, of_shift, view.base.name, view.outcome.plan),
                file_name="shift-lists.html",
                mime="text/html",
                on_click="ignore",
                icon=":material/print:",
                help="Each list on a page of its own.",
            )
    show_table(line_rows(of_day, Wanted(shift, crew, check)), wraps=True)
    for shortened in dict.fromkeys(one.title for one in of_shift if one.shortened):
        st.caption(plain(shortened))
    st.caption(SHARED_PEOPLE)
    st.caption(FATIGUE)


def _one_of(label: str, names: Iterable[str], width: int) -> str:
    """Return one of the names that are there, or that all are wanted."""
    there = [ALL, *sorted(dict.fromkeys(names))]
    chosen = st.selectbox(label, there, width=width, key=f"shift list {label}")
    return chosen if chosen in there else ALL


def _day_or_all(day: date | str) -> str:
    return as_day(day) if isinstance(day, date) else day


def _show_details(staffed: Staffed, base: Base) -> None:
    for title, rows in (
        ("Overload and contract labour to be hired", not_covered_rows(staffed)),
        ("Stages moved within their float", moved_rows(staffed)),
        ("Crews by week", crew_week_rows(staffed, base)),
    ):
        with st.expander(f"{title} ({len(rows)})"):
            if rows:
                show_table(rows)
            else:
                st.text("None.")
