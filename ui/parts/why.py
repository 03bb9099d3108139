"""Why the plan is as it is, and what would help: of a check, and of the whole plan."""

from collections.abc import Sequence

import streamlit as st

from capacity.plans.outcome import OutOfTime, Planned
from capacity.reports.plan.view import View
from ui.desk.desk import Desk
from ui.desk.plan_job import result_of
from ui.desk.session import current_desk, watched
from ui.parts.running import LONGEST_SECONDS, show_work_of
from ui.plain import plain
from ui.planner.why_job import WHY, WhyAsked, answers_of, is_asked, start_why

SECONDS = "seconds to find out why"
FEW_SECONDS = 20
TITLE = "Why the plan is as it is, and what would help"
OF_CHECK = "Why here, why late or expensive, what would help"
OF_PLAN = "Why are checks late or without a slot"
OF_MORE = "What one more bay, head or day would save"
OF_CONFLICTS = "Which rules conflict with each other"
HELP = "For what has to be searched anew: conflicts, Ready dates, one more bay or head."


def show_why_of_check(view: View, name: str, place: str) -> None:
    """Show the button that finds out why a check is where it is, and what was found out.

    ``place`` tells apart where on a page the check is shown. Nothing where the plan of the view
    is not the plan of the desk.
    """
    desk = current_desk()
    result = result_of(desk)
    if result is None or result.outcome is not view.outcome:
        return
    asked = WhyAsked(name)
    with st.container(horizontal=True, vertical_alignment="bottom"):
        seconds = _seconds(f"{place} check")
        _button(desk, OF_CHECK, asked, seconds, place)
    if is_asked(desk, asked):
        show_work_of(desk, WHY, f"why {place}")
    _show_said(answers_of(desk).said.get(asked, ()))


def show_why_of_plan(desk: Desk) -> None:
    """Show the questions about the whole plan, or, where there is none, about what conflicts."""
    result = result_of(desk)
    if result is None or isinstance(result.outcome, OutOfTime):
        return
    labels = {WhyAsked(): OF_CONFLICTS}
    if isinstance(result.outcome, Planned):
        labels = {WhyAsked(): OF_PLAN, WhyAsked(worth=True): OF_MORE}
    with st.expander(TITLE, icon=":material/help:"):
        with st.container(horizontal=True, vertical_alignment="bottom"):
            seconds = _seconds("plan")
            for asked, label in labels.items():
                _button(desk, label, asked, seconds, "plan")
        if any(is_asked(desk, asked) for asked in labels):
            show_work_of(desk, WHY, "why of the plan")
        said = answers_of(desk).said
        for asked, label in labels.items():
            if asked in said:
                st.markdown(f"**{plain(label)}**")
                _show_said(said[asked])


def _seconds(place: str) -> float:
    seconds = st.number_input(
        "Seconds at most",
        min_value=1,
        max_value=LONGEST_SECONDS,
        value=int(st.session_state.get(SECONDS, FEW_SECONDS)),
        width=160,
        help=HELP,
        key=f"{SECONDS} {place}",
    )
    st.session_state[SECONDS] = seconds
    return float(seconds)


def _button(desk: Desk, label: str, asked: WhyAsked, seconds: float, place: str) -> None:
    st.button(
        label,
        icon=":material/help:",
        disabled=desk.is_working,
        key=f"why {place} {asked.check} {asked.worth}",
        on_click=_start,
        args=(desk, asked, seconds),
    )


def _start(desk: Desk, asked: WhyAsked, seconds: float) -> None:
    watched(desk, start_why(desk, asked, seconds))


def _show_said(said: Sequence[str]) -> None:
    """Show sentences and lines of lists, one below the other, as they stand."""
    if said:
        st.text("\n".join(said))
