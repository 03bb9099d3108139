"""What is behind a check: its dates, stages, hours and cautions."""

import streamlit as st

from capacity.reports.plan.view import View
from ui.desk.session import current_desk
from ui.manager.risk_job import risk_of_plan_shown
from ui.manager.risk_rows import risk_of_check
from ui.parts.levelled import show_hours_of_check
from ui.parts.tables import show_facts, show_table
from ui.parts.why import show_why_of_check
from ui.plain import plain
from ui.planner.behind import (
    cautions_table,
    check_facts,
    risk_facts,
    stages_table,
    window_facts,
)


def show_check(view: View, name: str, place: str = "bays") -> None:
    """Show a check of the plan, or of one without a slot what it asks for.

    ``place`` tells apart where on a page it is shown, should that be in two places.
    """
    if not view.base.has_check(name):
        return
    with st.container(border=True):
        st.markdown(f"**Check {plain(name)}**")
        if name not in view.accounts:
            show_facts(window_facts(view, name))
            show_why_of_check(view, name, place)
            return
        show_facts([*check_facts(view, name), *_risk_of(view, name)])
        show_why_of_check(view, name, place)
        show_table(stages_table(view, name))
        show_hours_of_check(view, name)
        _show_cautions(view, name)


def _risk_of(view: View, name: str) -> list[tuple[str, str]]:
    """Return how the check may end, where the plan of the view was simulated."""
    answer = risk_of_plan_shown(current_desk())
    if answer is None or answer.result.outcome is not view.outcome:
        return []
    found = risk_of_check(answer.told.risk, name)
    return [] if found is None else risk_facts(found)


def _show_cautions(view: View, name: str) -> None:
    rows = cautions_table(view, name)
    if not rows:
        return
    with st.expander(f"Cautions for its work ({len(rows)})"):
        st.caption("Examples of what is usual. Local rules and approved data always come first.")
        show_table(rows)
