"""The job that finds out why the plan is as it is, and its answers on a desk."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from threading import Event

from capacity.cells import Where
from capacity.errors import StoppedError
from capacity.facts import Base, Status
from capacity.plans.outcome import OutOfTime, Planned
from capacity.plans.plan import Plan
from capacity.questions.conflicts.explaining import conflicts_of
from capacity.questions.conflicts.wording import conflict_sentences
from capacity.questions.why.explain import NOT_THE_BEST, explain
from capacity.questions.worth.selling import worth_of
from capacity.questions.worth.wording import worth_sentences
from capacity.reports.why.text import ready_dates_in_words, why_in_words
from capacity.settings import Settings
from capacity.slots.rules.ready_dates import READY_AT_ONCE
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.plan_job import result_of
from ui.desk.plan_question import answer_of_plan, base_of
from ui.desk.search_settings import search_settings

WHY = "why"


@dataclass(frozen=True, slots=True)
class WhyAsked:
    """Of what is asked: a ``check``, None for the whole plan, or what more would be ``worth``."""

    check: str | None = None
    worth: bool = False


@dataclass(frozen=True, slots=True)
class WhyAnswers:
    """The sentences of every question that was asked of one plan, as the command says them."""

    said: Mapping[WhyAsked, tuple[str, ...]] = field(default_factory=dict)


def start_why(desk: Desk, asked: WhyAsked, seconds: float) -> Job | None:
    """Begin to find out; None without an outcome or while a job is going on.

    A search that this takes has ``seconds``: for conflicts, Ready dates and what more is worth.
    """
    result = result_of(desk)
    if result is None or isinstance(result.outcome, OutOfTime):
        return None
    base, where = base_of(result), result.opened.book.where
    plan = result.outcome.plan if isinstance(result.outcome, Planned) else None
    before = answers_of(desk).said
    settings = search_settings(seconds)

    def work(tell: Tell, stop: Event) -> object:
        try:
            said = said_of(asked, base, plan, where, settings, stop)
        except StoppedError:
            return None
        return None if stop.is_set() else WhyAnswers({**before, asked: said})

    return desk.start(WHY, (result, asked), work, seconds)


def answers_of(desk: Desk) -> WhyAnswers:
    """Return all that was found out of the plan that is shown."""
    answer = answer_of_plan(desk, WHY)
    if answer is None:
        return WhyAnswers()
    assert isinstance(answer.value, WhyAnswers)
    return answer.value


def is_asked(desk: Desk, asked: WhyAsked) -> bool:
    """Return whether the last question, answered or not, was this one."""
    made_from = desk.asked_of
    return desk.job_kind == WHY and isinstance(made_from, tuple) and made_from[1] == asked


def said_of(
    asked: WhyAsked,
    base: Base,
    plan: Plan | None,
    where: Where,
    settings: Settings,
    stop: Event,
) -> tuple[str, ...]:
    """Return the answer, a sentence or a line of a list each.

    Of a check without a slot or past ``Latest in`` the conflicts of the workbook are told as well,
    and of one with Ready dates what each of them costs.

    Raises
    ------
    StoppedError
        When ``stop`` is set before there is an answer.
    """
    if asked.worth and plan is not None:
        return worth_sentences(worth_of(base, plan, settings, stop=stop), base, where)
    found = explain(base, plan, settings, check=asked.check, where=where, stop=stop)
    said = why_in_words(found, base)
    if asked.check is None or plan is None:
        return said
    must_be_in = base.check(asked.check).status is not Status.OPTION
    if must_be_in and any(why.days_past or not why.placements for why in found.whys):
        conflicts = conflicts_of(base, settings.seconds, settings.seed, stop)
        said += conflict_sentences(conflicts, base, where)
        said += (NOT_THE_BEST,) if conflicts.possible else ()
    if any(row.check == asked.check for row in base.ready_dates):
        worths = worth_of(base, plan, settings, more=(READY_AT_ONCE,), of=(asked.check,), stop=stop)
        said += ready_dates_in_words(worths, base, where, asked.check)
    return said
