"""The form of a move by hand: a check, a bay and an in day, and what the move comes to."""

from datetime import date, timedelta

import streamlit as st

from capacity.errors import CapacityError
from capacity.facts import Base
from capacity.questions.by_hand.values import HandAnswer, HandMove
from capacity.questions.by_hand.wording import costs_in_words, verdict_in_words
from ui.desk import draft_plans, drafts
from ui.desk.desk import Desk
from ui.desk.drafts import HandDraft
from ui.desk.plan_question import base_of
from ui.parts.by_hand_bar import change_draft
from ui.plain import plain

CHECK, BAY, DAY = "by hand check", "by hand bay", "by hand day"
OFF = "off the bays (no slot)"
STEPS = {"A week earlier": -7, "A day earlier": -1, "A day later": 1, "A week later": 7}
NOTHING_IN_FORM = "Choose a check, a bay and an in day."


def show_form(desk: Desk, one: HandDraft, base: Base) -> HandMove | None:
    """Show the fields; return the move that stands in them, None while one is missing."""
    asked = drafts.work_of(desk).asked
    if CHECK not in st.session_state and asked is not None and base.has_check(asked.check):
        _fill(asked)  # the page is drawn again
    names = [check.name for check in base.checks]
    bays = [bay.name for bay in base.bays]
    if st.session_state.get(CHECK) not in (None, *names):
        for key in (CHECK, BAY, DAY):
            st.session_state.pop(key, None)
    with st.container(horizontal=True, vertical_alignment="bottom"):
        check = st.selectbox(
            "Check",
            names,
            index=None,
            placeholder="choose a check",
            key=CHECK,
            width=220,
            on_change=_to_its_slot,
            args=(one,),
        )
        bay = st.selectbox(
            "Bay", [OFF, *bays], index=None, placeholder="choose a bay", key=BAY, width=220
        )
        in_day = st.date_input(
            "In day",
            value=None,
            format="YYYY-MM-DD",
            key=DAY,
            width=160,
            disabled=bay == OFF,
        )
        for label, step in STEPS.items():
            st.button(
                label,
                key=f"by hand {label}",
                disabled=bay in (None, OFF) or not isinstance(in_day, date),
                on_click=_step,
                args=(step,),
            )
    move = None
    if check is not None and bay == OFF:
        move = HandMove(check)
    elif check is not None and bay is not None and isinstance(in_day, date):
        move = HandMove(check, bay, in_day)
    drafts.ask(desk, move)
    return move


def _fill(move: HandMove) -> None:
    st.session_state[CHECK] = move.check
    st.session_state[BAY] = OFF if move.is_off else move.bay
    st.session_state[DAY] = move.in_day


def _step(days: int) -> None:
    in_day = st.session_state.get(DAY)
    if isinstance(in_day, date):
        st.session_state[DAY] = in_day + timedelta(days=days)


def _to_its_slot(one: HandDraft) -> None:
    """Put the slot that the check chosen has in the draft into the other fields."""
    name = str(st.session_state.get(CHECK))
    try:
        stay = draft_plans.plan_of_draft(one)[0].by_check().get(name, [])
    except CapacityError:
        stay = []
    st.session_state[BAY] = stay[0].bay if stay else None
    st.session_state[DAY] = stay[0].in_day if stay else None


def show_answer(answer: HandAnswer, desk: Desk, one: HandDraft) -> None:
    """Say whether the move in the form is legal and what it costs, and show the button to keep."""
    base = base_of(one.start)
    told = plain(verdict_in_words(answer, base, one.start.opened.book.where))
    if answer.is_legal:
        st.success(told, icon=":material/check_circle:")
    else:
        st.error(told, icon=":material/block:")
    for sentence in costs_in_words(answer, base):
        st.text(sentence)
    is_held_there = answer.is_there_already and answer.move in one.draft.held
    st.button(
        "Keep as held",
        type="primary",
        icon=":material/push_pin:",
        disabled=not answer.is_legal or is_held_there,
        on_click=change_draft,
        args=(desk, one, one.draft.with_move(answer.move)),
    )
