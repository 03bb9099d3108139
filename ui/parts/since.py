"""What changed since the plan before: the checks that moved, and what the cost is made of."""

import streamlit as st

from ui.desk.desk import Desk
from ui.desk.once_a_run import once_a_run
from ui.desk.plan_job import Result, base_before, last_plan, plan_before
from ui.desk.plan_question import base_of
from ui.parts.tables import show_table
from ui.planner.since import BEFORE, cost_steps_of, moved_table

ASKED = "cost steps asked for"
STEPS = "What the workbook changed, and what the plan chose"


def show_since(desk: Desk, result: Result) -> None:
    """Show what moved since the plan before, unless a re-plan or a booking says so itself."""
    now, before = last_plan(desk), plan_before(desk)
    if now is None or before is None:
        return
    tells_itself = result.news is not None and result.news.answer is not None
    base = base_of(result)
    rows = [] if tells_itself else moved_table(now, before, base)
    may_ask = base_before(desk) is not None
    if not rows and not may_ask:
        return
    with st.expander(f"{BEFORE}: checks and cost", icon=":material/difference:"):
        if rows:
            show_table(rows, wraps=True)
        if may_ask:
            _show_steps(desk, result.number, base.currency)


def _show_steps(desk: Desk, run: int, currency: str) -> None:
    """Show the button that asks what the difference of cost is made of, and the answer."""
    st.button(STEPS, on_click=lambda: st.session_state.update({ASKED: run}))
    if st.session_state.get(ASKED) != run:
        return
    found = once_a_run("cost steps", run, lambda: cost_steps_of(desk))
    if found is None:
        return
    steps, notes = found
    show_table([{"Step": said, f"Amount ({currency})": round(amount)} for said, amount in steps])
    for note in notes:
        st.text(note)
