"""A copy of the plan with enquiries in it, compared with the plan, and taken away as files."""

import tempfile
from functools import partial
from pathlib import Path

import streamlit as st

from capacity.reports import report
from capacity.reports.compare.wording import (
    broken_in_words,
    compared_in_words,
    differing_in_words,
)
from capacity.reports.compare.workbook import comparison_workbook
from capacity.reports.plan.messages import plan_messages
from ui.commercial.compare_rows import NAMES, costs_table, overload_table, slots_table
from ui.commercial.enquiry_copy import PlanCopy, copy_of, takings_of
from ui.commercial.enquiry_job import Told
from ui.commercial.words import COPY_ONLY
from ui.parts.editor import EXCEL
from ui.parts.tables import show_messages, show_table

SHOWN = "enquiry copy shown"
TAKE_PIXELS = 340
"""As wide as a phone, so that the button goes below and not beside a word cut short."""


@st.fragment
def show_compare(told: Told) -> None:
    """Show the choice of what to take into a copy, and the copy beside the plan."""
    st.subheader("Take it into a copy of the plan and compare")
    takings = takings_of(told)
    if not takings:
        st.text("There is nothing to take: no slot is known for any of it.")
        return
    st.caption(COPY_ONLY)
    labels = [taking.label for taking in takings]
    with st.container(horizontal=True, vertical_alignment="bottom"):
        chosen = st.selectbox(
            "Take", labels, width=TAKE_PIXELS, key=f"enquiry taking {told.number}"
        )
        if st.button("Make the copy and compare", icon=":material/compare_arrows:"):
            st.session_state[SHOWN] = (told.number, chosen)
    number, shown = st.session_state.get(SHOWN, (None, None))
    if number != told.number or shown not in labels:
        return
    _show_copy(copy_of(takings[labels.index(shown)], told), told)


def _show_copy(copy: PlanCopy, told: Told) -> None:
    st.text(f"Copy: {copy.taking.label}")
    if broken := broken_in_words(copy.comparison, NAMES):
        st.error("It does not pass the audit. Do not use the copy; it breaks these rules:")
        for line in broken:
            st.text(line)
        return
    st.text(compared_in_words(copy.comparison, NAMES, copy.base))
    st.text(differing_in_words(copy.comparison))
    st.caption("Cost and days")
    show_table(costs_table(copy.comparison, told.base))
    st.caption("Checks that differ")
    show_table(slots_table(copy.comparison, only_differing=True))
    with st.expander(f"All checks ({len(copy.comparison.placements)})"):
        show_table(slots_table(copy.comparison, only_differing=False))
    st.caption("Overload by week and skill")
    if rows := overload_table(copy.comparison):
        show_table(rows)
    else:
        st.text("None, neither in the plan nor in the copy.")
    found = plan_messages(copy.outcome, copy.base, told.result.opened.book.where)
    if found:
        with st.expander(f"What to know before a slot is promised ({len(found)})"):
            show_messages(found)
    _show_downloads(copy, told)


def _show_downloads(copy: PlanCopy, told: Told) -> None:
    stem = told.result.opened.stem
    with st.container(horizontal=True):
        for label, ending, mime in (
            ("Workbook of the copy (.xlsx)", ".xlsx", EXCEL),
            ("Plan file of the copy (.json)", ".json", "application/json"),
        ):
            st.download_button(
                label,
                partial(copy_bytes, copy, told, ending),
                file_name=f"{stem}-copy{ending}",
                mime=mime,
                on_click="ignore",
                icon=":material/download:",
            )
        st.download_button(
            "Comparison (.xlsx)",
            partial(
                comparison_workbook,
                copy.comparison,
                copy.base,
                NAMES,
                (told.planned.plan, copy.outcome.plan),
            ),
            file_name=f"{stem}-compared.xlsx",
            mime=EXCEL,
            on_click="ignore",
            icon=":material/download:",
        )


def copy_bytes(copy: PlanCopy, told: Told, ending: str) -> bytes:
    """Return the report of the copy as it would be written to a file with that ending."""
    book = told.result.opened.book
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"copy{ending}"
        report(copy.base, copy.outcome, path, book.messages, where=book.where)
        return path.read_bytes()
