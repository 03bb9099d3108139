"""A check dropped on the board: taken into the draft where that is legal, and answered."""

import streamlit as st

from capacity.errors import CapacityError
from capacity.questions.by_hand.values import HandMove
from capacity.questions.by_hand.wording import costs_in_words, verdict_in_words
from ui.board.component import Moved
from ui.desk import draft_plans, drafts
from ui.desk.desk import Desk
from ui.desk.plan_question import base_of
from ui.plain import plain

DROPPED = "by hand dropped"
FIRST_STAY = "Take up its first stay: where it goes after that is chosen with it."


def drop(desk: Desk, moved: Moved) -> None:
    """Take a check that was dropped on the board into the draft if it is legal there.

    Either way a word that no scrolling hides says what came of it.
    """
    one = drafts.shown_draft(desk)
    if one is None:
        return
    base, move = base_of(one.start), HandMove(moved.check, moved.bay or "", moved.in_day)
    try:
        answer = draft_plans.answer_of(one, move)
    except CapacityError:
        return  # the form says why
    if len(answer.before) > 1 and moved.stage_from != answer.before[0].stage_from:
        st.session_state[DROPPED] = (False, FIRST_STAY)
        return
    told = verdict_in_words(answer, base, one.start.opened.book.where)
    costs = next(iter(costs_in_words(answer, base)), "")
    if answer.is_legal and not answer.is_there_already:
        drafts.put_draft(desk, one.changed_to(one.draft.with_move(move)))
        costs = f"{costs} Kept in {one.name}."
    st.session_state[DROPPED] = (answer.is_legal, f"{told} {costs}")


def show_dropped() -> None:
    """Say what came of the last drop, above the board and where no scrolling hides it."""
    is_legal, told = st.session_state.pop(DROPPED, (True, ""))
    if told and is_legal:
        st.success(plain(told), icon=":material/check_circle:")
        st.toast(plain(told), icon=":material/check_circle:")
    elif told:
        st.error(plain(told), icon=":material/block:")
        st.toast(plain(told), icon=":material/block:")
