"""The plans of drafts: every move answered beside all other checks, and what a draft comes to."""

from collections.abc import Mapping
from dataclasses import replace
from threading import RLock

from capacity.facts import Base
from capacity.plans.audit import Audit
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.by_hand.answering import ByHand
from capacity.questions.by_hand.drafts import Draft, DraftFigures, figures_of
from capacity.questions.by_hand.values import HandAnswer, HandMove
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.reports.plan.view import View, view_without_messages
from capacity.settings import Settings
from ui.desk.desk import Desk
from ui.desk.drafts import HandDraft
from ui.desk.once_a_run import once_a_run
from ui.desk.plan_job import Result, result_of
from ui.desk.plan_question import base_of

THE_PLAN = "The plan"
BY_HAND = "changed by hand"
"""What stands for the end of a search where the plan was changed by hand."""


class _Engine:
    """The moves of one plan, answered for one window of the page at a time."""

    def __init__(self, start: Result) -> None:
        outcome = start.outcome
        assert isinstance(outcome, Planned)
        self._lock = RLock()
        self._by_hand = ByHand(base_of(start), outcome.plan)

    def answer(self, draft: Draft, move: HandMove) -> HandAnswer:
        with self._lock:
            return self._by_hand.answer(draft.moves, move)

    def plan_after(self, draft: Draft) -> tuple[Plan, Audit]:
        with self._lock:
            return self._by_hand.plan_after(draft.moves)


def _engine(start: Result) -> _Engine:
    return once_a_run("moves by hand", start.number, lambda: _Engine(start))


def answer_of(one: HandDraft, move: HandMove) -> HandAnswer:
    """Return what a move comes to in a draft; raises as ``ByHand.answer`` does."""
    return _engine(one.start).answer(one.draft, move)


def plan_of_draft(one: HandDraft) -> tuple[Plan, Audit]:
    """Return the plan of a draft with its audit; raises as ``ByHand.plan_after`` does."""
    return _engine(one.start).plan_after(one.draft)


def figures(one: HandDraft) -> DraftFigures:
    """Return what a draft comes to beside the plan that it begins with."""
    outcome = one.start.outcome
    assert isinstance(outcome, Planned)
    plan, audit = plan_of_draft(one)
    return figures_of(one.name, plan, audit, outcome.plan, outcome.audit)


def plan_figures(desk: Desk) -> tuple[DraftFigures, ...]:
    """Return what the plan that is shown comes to, to set drafts beside it; nothing without one."""
    result = result_of(desk)
    if result is None or not isinstance(result.outcome, Planned):
        return ()
    plan, audit = result.outcome.plan, result.outcome.audit
    return (figures_of(THE_PLAN, plan, audit, plan, audit),)


def base_of_draft(one: HandDraft) -> Base:
    """Return the base of a draft, in which every check moved is held."""
    return one.draft.base(base_of(one.start))


def outcome_of_draft(one: HandDraft) -> Planned:
    """Return the plan of a draft as an outcome; nothing is proven of it."""
    plan, audit = plan_of_draft(one)
    return as_outcome(plan, base_of_draft(one), Settings(), 0.0, BY_HAND, audit)


def view_of_draft(one: HandDraft) -> View:
    """Return the view of a draft's plan, made once after each change of the draft."""
    return once_a_run("view of a draft", one.number, lambda: _view(one))


def _view(one: HandDraft) -> View:
    """Return the view without messages and what weeks do not tell of days: they take seconds."""
    start = one.start.outcome
    assert isinstance(start, Planned)
    plan, audit = plan_of_draft(one)
    outcome = replace(
        start,
        plan=plan,
        audit=audit,
        bound=None,
        gap=None,
        days_bound=0,
        stopped_by=BY_HAND,
        history=(),
        refusals=(),
        day_shortages=(),
    )
    return view_without_messages(base_of_draft(one), outcome)


def moved_from(one: HandDraft) -> Mapping[str, str]:
    """Return by check that was moved where it was before, for its mark on the board."""
    outcome = one.start.outcome
    assert isinstance(outcome, Planned)
    before = outcome.plan.by_check()
    stays = {name: before.get(name) for name in (*_moved(one), *one.draft.off_the_bays)}
    return {n: f"was in {stay_in_words(s)}" if s else "had no slot" for n, s in stays.items()}


def _moved(one: HandDraft) -> tuple[str, ...]:
    return tuple(move.check for move in one.draft.held)
