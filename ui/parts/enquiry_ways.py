"""Who may move for enquiries and how long is searched, and how a question is sent off."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import streamlit as st

from capacity.facts import Base, Check, Status
from capacity.messages import Level, Message
from capacity.questions.enquiries.asked import SECONDS_AN_ENQUIRY
from ui.commercial.enquiry_job import Question, start_enquiries
from ui.desk.desk import Desk
from ui.desk.plan_job import Result
from ui.desk.session import watched
from ui.parts.tables import show_messages

WAYS, FAULTS = "enquiry ways", "enquiry faults"
LONGEST_SECONDS = 600
WRONG = "Nothing has been asked yet. Correct this first, then press Ask again."


@dataclass(frozen=True, slots=True)
class Ways:
    """Who may move, which slots are left out, and seconds for each enquiry when others may."""

    may_move: tuple[str, ...] = ()
    all_may_move: bool = False
    on_time_only: bool = False
    seconds: int = int(SECONDS_AN_ENQUIRY)


def show_ways(desk: Desk, base: Base, key_of: Callable[[str], str]) -> Ways:
    """Show the fields, as they were last sent off, and return what stands in them."""
    before = desk.forms.get(WAYS)
    last = before if isinstance(before, Ways) else Ways()
    names = [check.name for check in base.checks if check.status is not Status.FIXED]
    who, how = st.columns([2, 1])
    with who:
        may_move = st.multiselect(
            "Checks that may move for it",
            names,
            [name for name in last.may_move if name in names],
            placeholder="No check may move",
            key=key_of("may move"),
        )
        everybody = st.checkbox(
            "All checks may move", last.all_may_move, key=key_of("all may move")
        )
    with how:
        seconds = st.number_input(
            "Seconds to search per enquiry when others may move",
            min_value=1,
            max_value=LONGEST_SECONDS,
            value=last.seconds,
            key=key_of("seconds"),
        )
        on_time = st.checkbox(
            "Only slots that are out as agreed", last.on_time_only, key=key_of("on time")
        )
    return Ways(tuple(may_move), everybody, on_time, int(seconds))


def send(
    desk: Desk,
    result: Result,
    enquiries: Sequence[Check],
    messages: Sequence[Message],
    ways: Ways,
) -> None:
    """Begin to ask, and keep what is to be said of the enquiries; only that if there are none."""
    desk.forms[WAYS] = ways
    keep_faults(result, messages)
    if not enquiries:
        return
    question = Question(
        enquiries=tuple(enquiries),
        may_move=None if ways.all_may_move else ways.may_move,
        on_time_only=ways.on_time_only,
        seconds=float(ways.seconds),
    )
    watched(desk, start_enquiries(desk, question))
    st.rerun()


def keep_faults(result: Result, messages: Sequence[Message], said: str = WRONG) -> None:
    """Keep messages about what was typed or opened, to be shown with this plan."""
    st.session_state[FAULTS] = (result.number, tuple(messages), said)


def show_faults(result: Result) -> None:
    """Show the messages that were kept."""
    run, messages, said = st.session_state.get(FAULTS, (None, (), ""))
    if run != result.number or not messages:
        return
    if any(message.level is Level.ERROR for message in messages):
        st.error(said)
    else:
        st.caption("What to know about the enquiry:")
    show_messages(messages, "of the enquiries")
