"""Changing the plan by hand: a slot tried for a check, kept, undone, and planned around."""

import streamlit as st

from capacity.errors import AuditError, CapacityError, InputError
from ui.desk import draft_plans, drafts
from ui.desk.desk import Desk
from ui.desk.drafts import HandDraft
from ui.desk.plan_question import base_of
from ui.parts.by_hand_bar import CANNOT_BE_SHOWN, show_bar, show_refusal
from ui.parts.by_hand_drafts import choose_draft, show_moves, show_side_by_side
from ui.parts.by_hand_dropped import show_dropped
from ui.parts.by_hand_form import NOTHING_IN_FORM, show_answer, show_form
from ui.parts.tables import show_messages

WHAT_IT_DOES = (
    "Try another slot for a check: whether it is legal, who is in the way and what it costs is "
    "said at once, with all other checks where they are. On the board drop it where you want it, "
    "or on the shelf. Keep what you like; the plan stays as it is until you plan around it or "
    "take it."
)


def show_by_hand(desk: Desk) -> None:
    """Show form, verdict and drafts, folded, and what of a draft the board shows; or nothing.

    Where a draft has moves the bays show its slots; ``draft_on_the_board`` gives them.
    """
    one = drafts.shown_draft(desk)
    if one is None:
        return
    with st.expander("By hand: move checks yourself", icon=":material/pan_tool:"):
        _show(desk, one)
    show_dropped()
    if one.draft.moves or one.draft.undone:
        show_bar(desk, one)
    show_refusal(desk)


def draft_on_the_board(desk: Desk) -> HandDraft | None:
    """Return the draft whose slots the bays show, None where they show the plan."""
    one = drafts.draft_with_moves(desk)
    if one is None:
        return None
    try:
        draft_plans.view_of_draft(one)
    except CapacityError:
        return None
    return one


def _show(desk: Desk, one: HandDraft) -> None:
    st.caption(WHAT_IT_DOES)
    choose_draft(desk, one)
    base = base_of(one.start)
    try:
        move = show_form(desk, one, base)
        if move is None:
            st.text(NOTHING_IN_FORM)
        else:
            show_answer(draft_plans.answer_of(one, move), desk, one)
        show_moves(one)
    except InputError as fault:
        st.error(CANNOT_BE_SHOWN)
        show_messages(fault.messages, "of the draft")
    except AuditError as fault:
        st.error(CANNOT_BE_SHOWN)
        for line in fault.broken:
            st.text(line)
    show_side_by_side(desk, base)
