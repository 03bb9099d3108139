"""The page Planner: open, correct, plan, look, take away.

Once a plan is there, its board is what the page is about: the workbook and the ways to plan anew
fold away into rows above it.
"""

from functools import partial

import streamlit as st

from capacity.plans.outcome import Planned
from capacity.reports.plan.view import View
from ui.board.component import Moved
from ui.board.rows import CheckNote, Notes
from ui.desk.desk import Desk
from ui.desk.draft_plans import moved_from, view_of_draft
from ui.desk.plan_job import Result, is_outdated, result_of
from ui.desk.roll_job import ROLL
from ui.desk.session import current_desk
from ui.manager.risk_job import RISK
from ui.parts.board import show_planning_board
from ui.parts.booking import show_booked
from ui.parts.by_hand import (
    draft_on_the_board,
    put_in_the_form,
    say_what_is_shown,
    show_by_hand,
)
from ui.parts.compact import compact
from ui.parts.concerns import show_concerns
from ui.parts.downloads import show_downloads
from ui.parts.editor import show_editor
from ui.parts.learnt import show_learnt
from ui.parts.opening import show_opening, workbook_in_words
from ui.parts.replan import show_changes, show_replan
from ui.parts.risk import show_risk
from ui.parts.roll import show_roll
from ui.parts.running import show_start, show_work
from ui.parts.verdict import show_sentences, show_verdict
from ui.parts.why import show_why_of_plan
from ui.words import OUTDATED, PLANS_ONLY

EDIT = "Change checks, progress, closures, crews, packages and settings"


def show_plan(desk: Desk, view: View, result: Result, note: str) -> None:
    """Show what is wrong with the plan, and the board with its slots or with those of a draft."""
    show_concerns(view, result.number, note)
    show_by_hand(desk)
    draft = draft_on_the_board(desk)
    if draft is None:
        show_planning_board(view, result.number, on_moved=partial(_dropped, desk))
        return
    say_what_is_shown(draft)
    notes = Notes({name: CheckNote(moved=was) for name, was in moved_from(draft).items()})
    of_draft = view_of_draft(draft)
    show_planning_board(of_draft, draft.number, notes, on_moved=partial(_dropped, desk))


def _dropped(desk: Desk, moved: Moved) -> None:
    put_in_the_form(desk, moved.check, moved.bay, moved.in_day)


desk = current_desk()
result = result_of(desk)
compact()
st.title("Planner")
st.caption(PLANS_ONLY)

if result is None:
    st.header("Workbook", divider="gray")
    show_opening(desk)
    if desk.opened is not None:
        with st.expander(EDIT):
            show_editor(desk)
        st.header("Plan", divider="gray")
elif desk.opened is not None:
    with st.expander(workbook_in_words(desk)):
        show_opening(desk)
        with st.expander(EDIT):
            show_editor(desk)

if desk.opened is not None:
    show_start(desk)
    show_replan(desk)
    show_work(desk, elsewhere=(RISK, ROLL))
    view = show_verdict(desk)
    if result is None:
        if not desk.is_working:
            st.text("There is no plan of this workbook yet.")
    else:
        if view is not None:
            show_plan(desk, view, result, OUTDATED if is_outdated(desk) else "")
        show_why_of_plan(desk)
        show_changes(result)
        show_booked(result)
        if isinstance(result.outcome, Planned):
            show_sentences(result)
        show_downloads(result)
        if view is not None:
            show_risk(desk)
    show_roll(desk)
    show_learnt(desk)
