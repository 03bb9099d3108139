"""What of a draft the board shows, what it comes to, and what can be done with it."""

from collections.abc import Callable
from functools import partial

import streamlit as st

from capacity.errors import CapacityError, InputError
from capacity.questions.by_hand.drafts import Draft
from capacity.questions.by_hand.wording import move_in_words
from capacity.words import counted, money
from ui.desk import around_job, draft_plans, drafts
from ui.desk.desk import Desk
from ui.desk.drafts import HandDraft
from ui.desk.job import Job
from ui.desk.plan_question import base_of
from ui.desk.session import watched
from ui.parts.editor import use_pending
from ui.parts.grids import take_in
from ui.parts.running import seconds_to_search
from ui.parts.tables import show_messages
from ui.plain import plain
from ui.planner.editing import edits_in_words

REFUSED = "by hand refused"
NOT_DONE = "Nothing is changed. "
CANNOT_BE_SHOWN = (
    "This draft cannot be shown any more: its plan or one of its moves breaks a rule. Remove it, "
    "or undo its last move."
)
AROUND_HELP = (
    "Holds every moved check in a copy of the workbook and searches for the rest, for as long as "
    "is set above. The file that you opened stays as it is."
)
TAKE_HELP = (
    "The draft becomes the plan of all pages as it is, with nothing searched for, and a copy of "
    "the workbook holds the moved checks."
)
HOLDING = "Holding the moved checks in a copy of the workbook"
HALF = 0.5


def show_bar(desk: Desk, one: HandDraft) -> None:
    """Say that the board shows a draft, what it comes to, and show what can be done with it."""
    draft, why_not = one.draft, around_job.why_not(desk, one)
    undo = f"Undo {move_in_words(draft.moves[-1])}" if draft.moves else None
    redo = f"Redo {move_in_words(draft.undone[-1])}" if draft.undone else None
    with st.container(horizontal=True, vertical_alignment="center"):
        st.markdown(plain(_what_is_shown(one)), width="stretch")
        st.button(
            "Undo",
            icon=":material/undo:",
            disabled=undo is None,
            help=undo,
            on_click=change_draft,
            args=(desk, one, draft.undo()),
        )
        st.button(
            "Redo",
            icon=":material/redo:",
            disabled=redo is None,
            help=redo,
            on_click=change_draft,
            args=(desk, one, draft.redo()),
        )
        around = st.button(
            "Plan around what is held",
            icon=":material/update:",
            disabled=bool(why_not),
            help=AROUND_HELP,
        )
        take = st.button(
            "Take it as the plan",
            icon=":material/event_available:",
            disabled=bool(why_not),
            help=TAKE_HELP,
        )
    if why_not and draft.moves:
        st.text(why_not)
    if around:
        _done(desk, one, partial(around_job.plan_around, desk, one, seconds_to_search()))
    if take:
        _done(desk, one, partial(around_job.take_as_plan, desk, one))


def _what_is_shown(one: HandDraft) -> str:
    """Return what the board shows, and what it costs beside the plan that it begins with."""
    moves = counted(len(one.draft.moves), "move")
    if not one.draft.moves:
        return f"{one.name} has no move; the board shows the plan."
    try:
        told = draft_plans.figures(one)
    except CapacityError:
        return f"{one.name}: {CANNOT_BE_SHOWN}"
    base, more = base_of(one.start), told.costs_more
    cost = f"{money(abs(more), base)} {'more' if more > 0 else 'less'} than the plan"
    if abs(more) < HALF:
        cost = "at the cost of the plan"
    past = f", days past Latest in {told.days_past}" if told.days_past else ""
    return f"The board shows {one.name}: {moves}, {cost}{past}."


def change_draft(desk: Desk, one: HandDraft, draft: Draft) -> None:
    """Put another draft in the place of one."""
    st.session_state.pop(REFUSED, None)
    drafts.put_draft(desk, one.changed_to(draft))


def _done(desk: Desk, one: HandDraft, work: Callable[[], Job | None]) -> None:
    """Hold the moved checks in a copy of the workbook and go on with it, or say why not."""
    if not _edits_are_used(desk):
        return
    try:
        with st.spinner(HOLDING):
            watched(desk, work())
    except InputError as fault:
        st.session_state[REFUSED] = (desk.version, fault.messages)
        st.rerun()
    st.session_state.pop(REFUSED, None)
    st.rerun()


def _edits_are_used(desk: Desk) -> bool:
    """Use the changes of the grid that are not used yet; return whether there are none left."""
    pending = take_in(desk)
    if not edits_in_words(tuple(pending.values())):
        return True
    return use_pending(desk, pending, NOT_DONE)


def show_refusal(desk: Desk) -> None:
    """Say why the workbook holds nothing of a draft, until it is another workbook."""
    version, messages = st.session_state.get(REFUSED, (None, ()))
    if version == desk.version and not desk.is_working:
        st.error(NOT_DONE + "Correct this, then press again.")
        show_messages(messages, "of the draft that was refused")
