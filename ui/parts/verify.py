"""Messages of the workbook as of a day, as ``capacity verify`` gives them for a re-plan."""

from datetime import date

import streamlit as st

from capacity.inputs.reading.as_of import AsOf, as_of_plan
from capacity.messages import Level
from capacity.words import counted, day
from ui.days import LEAST_DAY, MOST_DAY
from ui.desk.desk import Desk
from ui.desk.once_a_run import once_a_run
from ui.desk.opened_workbook import OpenedBook, read_as_of
from ui.desk.plan_job import last_plan, result_of
from ui.parts.tables import show_messages

TITLE = "Messages as of a day"
WHAT_IT_DOES = (
    "The workbook is read as a re-plan reads it on that day: progress may be as of it, and checks "
    "that came in by the plan below are in work. Nothing is planned. Changes that are not used "
    "yet are not looked at."
)


def show_verify(desk: Desk) -> None:
    """Show the field for a day and, where one is set, all messages of the workbook as of it."""
    opened = desk.opened
    if opened is None:
        return
    with st.expander(TITLE, icon=":material/fact_check:"):
        st.caption(WHAT_IT_DOES)
        today = st.date_input(
            "Today",
            value=None,
            min_value=LEAST_DAY,
            max_value=MOST_DAY,
            format="YYYY-MM-DD",
            key="verify today",
            width=160,
        )
        if not isinstance(today, date):
            return
        read = _read(desk, opened, today)
        errors, warnings = (
            sum(message.level is level for message in read.book.messages)
            for level in (Level.ERROR, Level.WARNING)
        )
        st.text(
            f"As of {day(today)}: {counted(errors, 'error')}, {counted(warnings, 'warning')} in "
            f"{opened.name}."
        )
        if read.book.messages:
            show_messages(read.book.messages, f"as of {day(today)}")


def _read(desk: Desk, opened: OpenedBook, today: date) -> OpenedBook:
    plan, result = last_plan(desk), result_of(desk)
    as_of = AsOf(today) if plan is None else as_of_plan(plan, today)
    run = 0 if result is None else result.number
    name = f"as of {today.isoformat()}, run {run}, desk {desk.id}"
    return once_a_run(name, desk.version, lambda: read_as_of(opened, as_of))
