"""Changing the plan by hand: a slot tried for a check, kept, undone, and planned around."""

from collections.abc import Callable
from datetime import date, timedelta
from functools import partial

import streamlit as st

from capacity.errors import AuditError, CapacityError, InputError
from capacity.facts import Base
from capacity.plans.outcome import Planned
from capacity.questions.by_hand.drafts import Draft, next_name
from capacity.questions.by_hand.values import HandAnswer, HandMove
from capacity.questions.by_hand.wording import costs_in_words, move_in_words, verdict_in_words
from capacity.words import counted, money
from ui.board.component import Moved
from ui.desk import around_job, draft_plans, drafts
from ui.desk.desk import Desk
from ui.desk.drafts import HandDraft
from ui.desk.job import Job
from ui.desk.plan_job import result_of
from ui.desk.plan_question import base_of
from ui.desk.session import watched
from ui.parts.editor import use_pending
from ui.parts.grids import take_in
from ui.parts.running import seconds_to_search
from ui.parts.tables import show_messages, show_table
from ui.plain import plain
from ui.planner.draft_rows import figure_rows, move_rows
from ui.planner.editing import edits_in_words

CHECK, BAY, DAY = "by hand check", "by hand bay", "by hand day"
CHOSEN = "by hand draft"
REFUSED, DROPPED = "by hand refused", "by hand dropped"
FIRST_STAY = "Take up its first stay: where it goes after that is chosen with it."
OFF = "off the bays (no slot)"
STEPS = {"A week earlier": -7, "A day earlier": -1, "A day later": 1, "A week later": 7}
NEW = "new draft"
WHAT_IT_DOES = (
    "Try another slot for a check: whether it is legal, who is in the way and what it costs is "
    "said at once, with all other checks where they are. On the board drop it where you want it, "
    "or on the shelf. Keep what you like; the plan stays as it is until you plan around it or "
    "take it."
)
NOTHING_IN_FORM = "Choose a check, a bay and an in day."
NOT_DONE = "Nothing is changed. "
CANNOT_BE_SHOWN = (
    "This draft cannot be shown any more: its plan or one of its moves breaks a rule. Remove it, "
    "or undo its last move."
)
AROUND_HELP = (
    "Holds every moved check in a copy of the workbook and searches for the rest, for as long as "
    "is set above. The file that you opened stays as it is."
)
HOLDING = "Holding the moved checks in a copy of the workbook"
HALF = 0.5
TAKE_HELP = (
    "The draft becomes the plan of all pages as it is, with nothing searched for, and a copy of "
    "the workbook holds the moved checks."
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
    _show_dropped()
    if one.draft.moves or one.draft.undone:
        _bar(desk, one)
    _show_refusal(desk)


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


def _bar(desk: Desk, one: HandDraft) -> None:
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
            on_click=_change,
            args=(desk, one, draft.undo()),
        )
        st.button(
            "Redo",
            icon=":material/redo:",
            disabled=redo is None,
            help=redo,
            on_click=_change,
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


def drop(desk: Desk, moved: Moved) -> None:
    """Take a check that was dropped on the board into the draft if it is legal there.

    Either way the form shows it, and a word that no scrolling hides says what came of it.
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


def _show_dropped() -> None:
    """Say what came of the last drop, above the board and where no scrolling hides it."""
    is_legal, told = st.session_state.pop(DROPPED, (True, ""))
    if told and is_legal:
        st.success(plain(told), icon=":material/check_circle:")
        st.toast(plain(told), icon=":material/check_circle:")
    elif told:
        st.error(plain(told), icon=":material/block:")
        st.toast(plain(told), icon=":material/block:")


def _show(desk: Desk, one: HandDraft) -> None:
    st.caption(WHAT_IT_DOES)
    _choose_draft(desk, one)
    base = base_of(one.start)
    try:
        move = _form(desk, one, base)
        if move is None:
            st.text(NOTHING_IN_FORM)
        else:
            _say(draft_plans.answer_of(one, move), desk, one)
        _moves(one)
    except InputError as fault:
        st.error(CANNOT_BE_SHOWN)
        show_messages(fault.messages, "of the draft")
    except AuditError as fault:
        st.error(CANNOT_BE_SHOWN)
        for line in fault.broken:
            st.text(line)
    _side_by_side(desk, base)


def _choose_draft(desk: Desk, one: HandDraft) -> None:
    """Show the names of all drafts, a new one among them, and what can be done with one."""
    work = drafts.work_of(desk)
    names = [draft.name for draft in work.drafts]
    if not names:
        return
    is_new = one.name not in names
    label = one.name if is_new else next_name(names)
    options = [*names, f"{NEW}: {label}"] if result_of(desk) is not None else names
    with st.container(horizontal=True, vertical_alignment="bottom"):
        key = f"{CHOSEN} {one.name} {len(names)}"
        st.selectbox(
            "Draft",
            options,
            index=len(names) if is_new else names.index(one.name),
            key=key,
            width=260,
            on_change=_choose,
            args=(desk, key),
        )
        if not is_new:
            st.button(
                "Remove this draft",
                icon=":material/delete:",
                on_click=drafts.remove_draft,
                args=(desk, one.name),
            )


def _choose(desk: Desk, key: str) -> None:
    drafts.show_draft(desk, str(st.session_state[key]))


def _form(desk: Desk, one: HandDraft, base: Base) -> HandMove | None:
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


def _say(answer: HandAnswer, desk: Desk, one: HandDraft) -> None:
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
        on_click=_change,
        args=(desk, one, one.draft.with_move(answer.move)),
    )


def _change(desk: Desk, one: HandDraft, draft: Draft) -> None:
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


def _show_refusal(desk: Desk) -> None:
    version, messages = st.session_state.get(REFUSED, (None, ()))
    if version == desk.version and not desk.is_working:
        st.error(NOT_DONE + "Correct this, then press again.")
        show_messages(messages, "of the draft that was refused")


def _moves(one: HandDraft) -> None:
    """List the checks that were moved."""
    outcome = one.start.outcome
    assert isinstance(outcome, Planned)
    if one.draft.moves:
        st.markdown(f"**Kept in {plain(one.name)}**")
        rows = move_rows(one.draft, outcome.plan, draft_plans.plan_of_draft(one)[0])
        show_table(rows, wraps=True)


def _side_by_side(desk: Desk, base: Base) -> None:
    """Set the drafts of the desk side by side, each beside the plan that it begins with."""
    found, gone = [], []
    for one in drafts.work_of(desk).drafts:
        try:
            found.append(draft_plans.figures(one))
        except CapacityError:
            gone.append(one.name)
    if found:
        st.markdown("**Drafts side by side**")
        show_table(figure_rows([*draft_plans.plan_figures(desk), *found], base), wraps=True)
    for name in gone:
        st.text(f"{name} cannot be shown any more.")
