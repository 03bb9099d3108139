"""What a plan comes to: figures first, then sentences, and what must be known before a promise."""

from collections.abc import Sequence

import streamlit as st

from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.outcome import Impossible, OutOfTime, Planned
from capacity.questions.replan.values import Replanned
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import ENDED_BY, how_dear, how_loaded, how_punctual, is_over
from capacity.words import money
from capacity.words.marks import TRIANGLE
from ui.desk.desk import Desk
from ui.desk.draft_plans import BY_HAND
from ui.desk.plan_job import Result, is_outdated, result_of
from ui.desk.result_view import result_view
from ui.desk.roll_job import ROLLED
from ui.desk.saved_plan import SAVED
from ui.parts.levelled import show_saved
from ui.parts.tables import show_messages
from ui.parts.tiles import show_tiles
from ui.plain import plain
from ui.planner.tile_rows import tiles_of
from ui.words import OUTDATED

IN_SENTENCES = "The plan in sentences"


def show_verdict(desk: Desk) -> View | None:
    """Show the figures of the last run, or why it has none; return what to show of its plan."""
    result = result_of(desk)
    if result is None:
        return None
    if is_outdated(desk):
        st.warning(OUTDATED, icon=":material/history:")
    match result.outcome:
        case Planned():
            view = result_view(result).view
            show_tiles(tiles_of(view, is_proof_told=not _tells_its_own_proof(result)))
            return view
        case Impossible() as impossible:
            st.error("There is no plan: the fixed checks conflict with each other.")
            for sentence in impossible.why:
                st.text(sentence)
            st.text("Correct the fixed checks, or make one of them booked.")
        case OutOfTime():
            st.warning(
                "The run ended before its first plan. Press Make the plan to begin again; if "
                "nobody stopped it, allow more seconds."
            )
    return None


def show_sentences(result: Result) -> None:
    """Show what the plan comes to in sentences, with its proof and how it was found."""
    planned, base = result.outcome, result.opened.book.base
    assert isinstance(planned, Planned)
    assert base is not None
    st.header(IN_SENTENCES)
    if planned.audit.goals.days_past_latest_in:
        st.warning(plain(how_punctual(planned, base)), icon=":material/event_busy:")
    else:
        st.text(how_punctual(planned, base))
    st.text(_cost_of(result, planned, base))
    show_load(planned)
    of_result = result_view(result)
    show_saved(of_result.view)
    if result.news is None or result.news.answer is None:
        st.caption(_search_of(planned))
    for note in planned.notes:
        st.text(f"{note.level}: {note.what} {note.remedy}")
    for fault in planned.faults:
        st.warning("A part of the search broke down; the plan is valid all the same.")
        st.text(fault)
    _show_messages(of_result.of_plan)


def _search_of(planned: Planned) -> str:
    if planned.stopped_by == SAVED:
        return "Opened from a saved plan file; nothing was searched for."
    if planned.stopped_by == ROLLED:
        return "The plan of the week before, rolled forward; nothing was searched for."
    if planned.stopped_by == BY_HAND:
        return "Changed by hand; nothing was searched for."
    ended = ENDED_BY.get(planned.stopped_by, planned.stopped_by)
    return f"Searched for {planned.seconds:.0f} s; ended by {ended}."


def _tells_its_own_proof(result: Result) -> bool:
    """Whether what is proven counts the moves of a re-plan, which says so itself."""
    return result.news is not None and isinstance(result.news.answer, Replanned)


def _cost_of(result: Result, planned: Planned, base: Base) -> str:
    if _tells_its_own_proof(result):
        return f"The cost of the plan is {money(planned.audit.goals.money, base)}."
    return how_dear(planned, base)


def show_load(planned: Planned) -> None:
    """Say how the weeks are loaded: overload as loudly as it matters, with its triangle."""
    told = how_loaded(planned)
    if any(is_over(load) for load in planned.audit.weeks):
        st.error(plain(f"{TRIANGLE} {told}"))
    else:
        st.text(told)


def _show_messages(found: Sequence[Message]) -> None:
    if found:
        with st.expander(f"What to know before a slot is promised ({len(found)})"):
            show_messages(found, "of the plan")
