"""A job that asks something of the plan that is shown, and its answer."""

from collections.abc import Callable
from dataclasses import dataclass
from threading import Event

from capacity.facts import Base
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.plan_job import Result, result_of

PlanWork = Callable[[Base, Plan, Tell, Event], object]
"""Long work on a base and its plan, otherwise as any job's."""


@dataclass(frozen=True, slots=True)
class PlanAnswer:
    """What a job came to that asked ``question`` of ``result``; ``number`` counts jobs."""

    number: int
    result: Result
    question: object
    value: object


def ask_of_plan(
    desk: Desk, kind: str, work: PlanWork, seconds: float, question: object = None
) -> Job | None:
    """Begin a job about the plan that is shown; None without one or while a job is going on."""
    result = result_of(desk)
    if result is None or not isinstance(result.outcome, Planned):
        return None
    base, plan = base_of(result), result.outcome.plan

    def on_the_plan(tell: Tell, stop: Event) -> object:
        return work(base, plan, tell, stop)

    return desk.start(kind, (result, question), on_the_plan, seconds)


def answer_of_plan(desk: Desk, kind: str) -> PlanAnswer | None:
    """Return the answer about the plan that is shown; None when there is none of this plan."""
    result, answer = result_of(desk), desk.answer(kind)
    if result is None or answer is None:
        return None
    assert isinstance(answer.made_from, tuple)
    asked_of, question = answer.made_from
    assert isinstance(asked_of, Result)
    if asked_of.number != result.number:
        return None
    return PlanAnswer(answer.number, asked_of, question, answer.value)


def base_of(result: Result) -> Base:
    """Return the base of a plan."""
    base = result.opened.book.base
    assert base is not None, "a plan was made of it"
    return base
