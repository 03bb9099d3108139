"""Next week's workbook from the plan in force: what is set, what becomes of it, and going on."""

import io
import zipfile
from collections.abc import Mapping
from datetime import timedelta
from functools import partial

import streamlit as st

from capacity.errors import InputError
from capacity.facts import Base, Status
from capacity.messages import Level
from capacity.plans.outcome import Planned
from capacity.reports.roll.text import NOBODY_SAID, how_it_stands
from capacity.words import counted, day
from ui.desk.desk import Desk
from ui.desk.plan_job import result_of
from ui.desk.plan_question import base_of
from ui.desk.roll_job import (
    ROLL,
    NextWeek,
    Week,
    as_of_week,
    came_by_plan,
    go_on,
    next_week,
    plan_file_of,
    re_plan,
    start_roll,
)
from ui.desk.session import watched
from ui.parts.editor import EXCEL, use_pending
from ui.parts.grids import take_in
from ui.parts.running import seconds_to_search, show_work_of
from ui.parts.tables import show_messages, show_table
from ui.plain import plain
from ui.planner.editing import edits_in_words
from ui.planner.roll_rows import roll_rows

MOST_WEEKS = 110
WHAT_IT_DOES = (
    "The workbook moves on to a later first day: what is in work is fixed with what is left of it, "
    "what has left goes to the sheet Delivered, options past their Decide by are booked or taken "
    "out, rows of days gone by are taken out. Enter the progress first. The file that you opened "
    "stays as it is."
)
NO_PLAN = "There is no plan in force yet: make a plan, or open its plan file under Re-plan."
NOT_ROLLED = "The workbook was not rolled forward. "
REPLACES = (
    "It takes the place of the workbook that is open here, with its plan and its answers; what you "
    "want to keep of them, download before."
)
RE_PLANS = (
    "The plan in force no longer stands with what was reported. It is re-planned as of the new "
    "first day, and moves no more than is worth it."
)
REFUSED = "roll refused"
FOLDER = "Tables in a folder of CSV files: unpack them into a new folder and open that."


def show_roll(desk: Desk) -> None:
    """Show the fields, the button, and what rolling forward came to."""
    if desk.opened is None:
        return
    _show_refusal(desk)
    with st.expander("Next week: roll the workbook forward", icon=":material/next_week:"):
        st.caption(WHAT_IT_DOES)
        result = result_of(desk)
        if result is None or not isinstance(result.outcome, Planned):
            st.text(NO_PLAN)
            return
        week = _week(base_of(result), result.outcome, result.number)
        if st.button(
            "Roll forward",
            type="primary",
            icon=":material/next_week:",
            disabled=desk.is_working,
        ):
            _start(desk, week)
            st.rerun()
        show_work_of(desk, ROLL)
        found = next_week(desk)
        if found is not None:
            _show(desk, found)


def _week(base: Base, planned: Planned, run: int) -> Week:
    """Return what the fields say; those of another plan are others."""
    options = [check.name for check in base.checks if check.status is Status.OPTION]
    with st.container(horizontal=True, vertical_alignment="bottom"):
        first = st.date_input(
            "First day of next week",
            min(base.first_day + timedelta(days=7), base.last_in_day),
            min_value=min(base.first_day + timedelta(days=1), base.last_in_day),
            max_value=base.last_in_day,
            format="YYYY-MM-DD",
            width=190,
            key=f"roll first day {run}",
        )
        weeks = st.number_input(
            "Weeks from there",
            min_value=1,
            max_value=MOST_WEEKS,
            value=None,
            placeholder=f"{base.weeks}, as now",
            width=160,
            key=f"roll weeks {run}",
        )
    book = st.multiselect(
        "Options to book: the customer has said yes",
        options,
        placeholder="None",
        key=f"roll book {run}",
    )
    drop = st.multiselect(
        "Options to take out: the customer has said no",
        [name for name in options if name not in book],
        placeholder="None",
        key=f"roll drop {run}",
    )
    not_in = st.multiselect(
        "Checks that did not come, though the plan has them in before that day",
        came_by_plan(base, planned, first),
        placeholder="None",
        key=f"roll not in {run}",
    )
    return Week(
        first, None if weeks is None else int(weeks), tuple(book), tuple(drop), tuple(not_in)
    )


def _start(desk: Desk, week: Week) -> None:
    """Use the changes that are not used yet, and begin; not if they have errors."""
    pending = take_in(desk)
    as_of = as_of_week(desk, week.first_day)
    if edits_in_words(tuple(pending.values())) and not use_pending(
        desk, pending, NOT_ROLLED, as_of
    ):
        return
    watched(desk, start_roll(desk, week))


def _show(desk: Desk, week: NextWeek) -> None:
    rolled = week.told.rolled
    st.markdown("**Next week's workbook**")
    st.text(
        f"First day {day(rolled.old_first_day)} -> {day(rolled.first_day)}, "
        f"{counted(rolled.weeks, 'week')} from there."
    )
    rows = roll_rows(rolled)
    if rows:
        show_table(rows, wraps=True)
    else:
        st.text("No check and no row is another than before.")
    errors = [message for message in week.told.messages if message.level is Level.ERROR]
    messages = [*rolled.for_a_person, *errors]
    st.markdown(f"**What needs a person ({len(messages)})**")
    if messages:
        show_messages(messages, "of next week's workbook")
    else:
        st.text("Nothing.")
    st.caption(NOBODY_SAID)
    stands, *rules = how_it_stands(week.told, week.broken)
    if week.planned is None:
        st.warning(plain(stands), icon=":material/warning:")
    else:
        st.text(stands)
    for rule in rules:
        st.text(rule)
    _show_ways_on(desk, week)


def _show_ways_on(desk: Desk, week: NextWeek) -> None:
    content, opened = week.told.content, week.opened
    if opened is None:
        assert isinstance(content, Mapping)
        st.download_button(
            "Next week's tables (.zip)",
            partial(_zipped, content),
            file_name="next-week.zip",
            mime="application/zip",
            on_click="ignore",
            icon=":material/download:",
        )
        st.caption(FOLDER)
        return
    with st.container(horizontal=True):
        st.download_button(
            "Next week's workbook (.xlsx)",
            opened.content or b"",
            file_name=opened.name,
            mime=EXCEL,
            on_click="ignore",
            icon=":material/download:",
        )
        if week.planned is not None:
            st.download_button(
                "Plan file for it (.json)",
                partial(plan_file_of, week),
                file_name=f"{opened.stem}-plan.json",
                mime="application/json",
                on_click="ignore",
                icon=":material/download:",
            )
        if week.planned is None and week.told.base is not None:
            st.button(
                "Go on with it and re-plan",
                type="primary",
                icon=":material/update:",
                disabled=desk.is_working,
                on_click=_re_plan,
                args=(desk, week, seconds_to_search()),
                help=f"{RE_PLANS} {REPLACES}",
            )
        st.button(
            "Go on with it" if week.planned is not None else "Open it without a plan",
            icon=":material/arrow_forward:",
            disabled=desk.is_working,
            on_click=_go_on,
            args=(desk, week),
            help=REPLACES,
        )


def _go_on(desk: Desk, week: NextWeek) -> None:
    if not desk.is_working:  # begun in another window
        go_on(desk, week)


def _re_plan(desk: Desk, week: NextWeek, seconds: float) -> None:
    if desk.is_working:  # begun in another window
        return
    try:
        watched(desk, re_plan(desk, week, seconds))
    except InputError as fault:
        st.session_state[REFUSED] = (desk.version, fault.messages)


def _show_refusal(desk: Desk) -> None:
    version, messages = st.session_state.get(REFUSED, (None, ()))
    if version == desk.version:
        st.error("Next week's workbook is open, but it cannot be re-planned from the plan before.")
        show_messages(messages, "of the re-plan of next week")


def _zipped(files: Mapping[str, bytes]) -> bytes:
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, file in files.items():
            archive.writestr(name, file)
    return content.getvalue()
