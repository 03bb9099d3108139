"""The page Planner: open, correct, plan, look, take away.

Once a plan is there, its board is what the page is about: the workbook and the ways to plan anew
fold away into rows above it.
"""

from functools import partial

import streamlit as st

from capacity.plans.outcome import Planned
from capacity.reports.plan.view import View
from ui.board.rows import CheckNote, Notes
from ui.desk.desk import Desk
from ui.desk.draft_plans import moved_from, view_of_draft
from ui.desk.plan_job import Result, is_outdated, result_of
from ui.desk.roll_job import ROLL
from ui.desk.session import current_desk
from ui.manager.risk_job import RISK
from ui.parts.board import ShownDraft, show_planning_board
from ui.parts.booking import show_booked
from ui.parts.by_hand import draft_on_the_board, show_by_hand
from ui.parts.by_hand_dropped import drop
from ui.parts.compact import compact, folded, place
from ui.parts.concerns import show_concerns
from ui.parts.downloads import show_downloads
from ui.parts.editor import show_editor
from ui.parts.learnt import show_learnt
from ui.parts.opening import show_opening, workbook_in_words
from ui.parts.progress_in import show_progress_in
from ui.parts.replan import show_changes, show_replan
from ui.parts.risk import show_risk
from ui.parts.roll import show_roll
from ui.parts.running import search_in_words, show_start, show_unused, show_work
from ui.parts.since import show_since
from ui.parts.verdict import show_sentences, show_verdict
from ui.parts.verify import show_verify
from ui.parts.why import show_why_of_plan
from ui.plain import plain
from ui.planner.since import notes_of, since_in_words
from ui.words import OUTDATED, PLANS_ONLY

EDIT = "Change the workbook: all sheets, verified as you type"
PROGRESS = "Progress in: the checks in work"


@st.fragment
def show_plan(desk: Desk, view: View, result: Result, note: str) -> None:
    """Show what is wrong with the plan, and the board with its slots or with those of a draft.

    A click in one is seen in the other, with nothing else drawn anew.
    """
    with place():
        show_concerns(view, result.number, note)
    with place():
        show_by_hand(desk)
    draft, on_moved = draft_on_the_board(desk), partial(drop, desk)
    notes, shown = notes_of(desk, view), None
    if draft is not None:
        notes = Notes({name: CheckNote(moved=was) for name, was in moved_from(draft).items()})
        shown = ShownDraft(view_of_draft(draft), draft.number, draft.start.number)
    show_planning_board(view, result.number, notes, on_moved, draft=shown)


def show_workbook(desk: Desk) -> None:
    """Show what is open and the grids in which it can be changed."""
    show_opening(desk)
    show_verify(desk)
    if desk.opened is not None:
        with st.expander(EDIT):
            show_editor(desk)


desk = current_desk()
result = result_of(desk)
compact()
with st.container(horizontal=True, vertical_alignment="center", key="heading"):
    st.title("Planner", width="content")
    st.caption(PLANS_ONLY)

if result is None:
    st.header("Workbook", divider="gray")
    show_workbook(desk)
    if desk.opened is not None:
        st.header("Plan", divider="gray")
        show_start(desk)
        show_replan(desk)
elif desk.opened is not None:
    with folded():
        with st.expander(workbook_in_words(desk), icon=":material/table:"):
            show_workbook(desk)
        with st.expander(PROGRESS, icon=":material/edit_note:"):
            show_progress_in(desk)
        with st.expander(search_in_words(desk), icon=":material/play_arrow:"):
            show_start(desk)
        show_replan(desk)

if desk.opened is not None:
    with place():
        show_unused(desk)
    with place():
        show_work(desk, elsewhere=(RISK, ROLL))
    ended = result_of(desk)
    if ended is not None and (result is None or result.number != ended.number):
        st.rerun()  # a run ended while the page was drawn, and what stands above is of no plan
    with place():
        view = show_verdict(desk)
    if result is None:
        if not desk.is_working:
            st.text("There is no plan of this workbook yet.")
    else:
        with place():
            for said in since_in_words(desk):
                st.caption(plain(said))
        if view is not None:
            show_plan(desk, view, result, OUTDATED if is_outdated(desk) else "")
        show_why_of_plan(desk)
        show_since(desk, result)
        show_changes(result)
        show_booked(result)
        if isinstance(result.outcome, Planned):
            show_sentences(result)
        show_downloads(result)
        if view is not None:
            show_risk(desk)
    show_roll(desk)
    show_learnt(desk)
