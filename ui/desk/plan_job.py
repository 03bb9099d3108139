"""The job that makes the plan, and its outcome on a desk."""

from dataclasses import dataclass, replace
from threading import Event

from capacity.errors import AuditError
from capacity.facts import Base
from capacity.messages import Level, Message
from capacity.planning import plan
from capacity.plans.outcome import Impossible, Outcome, OutOfTime, Planned, Progress
from capacity.plans.plan import Plan
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.enquiries.booking import Booked
from capacity.questions.replan.values import Replanned
from capacity.settings import Settings
from ui.desk.apart import apart
from ui.desk.apart_child import BestSoFar
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.opened_workbook import OpenedBook

PLAN = "plan"
SEARCH = "search"
KILLED = "it was killed, or there was no memory left. The plan is the best found until then."
AGAIN = "Close other programs if memory was short, and plan again, from this plan."


@dataclass(frozen=True, slots=True)
class PlanWithNews:
    """A plan that answers a question: one that a re-plan came to, or one with enquiries booked.

    The base of ``opened`` is that of the plan; ``read`` is the one that was read. ``earlier`` is
    the plan that was in force, ``notes`` are about its file. ``answer`` is what the question
    tells. Both are None where the plan was kept over a restart.
    """

    opened: OpenedBook
    read: Base
    outcome: Planned
    earlier: Plan | None = None
    answer: Replanned | Booked | None = None
    notes: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True)
class Result:
    """What a run came to, with the workbook that it was made from; ``number`` tells runs apart.

    ``news`` is there where the plan is no plan of the workbook by itself.
    """

    number: int
    opened: OpenedBook
    outcome: Outcome
    news: PlanWithNews | None = None


def start_plan(
    desk: Desk, settings: Settings, *, goes_on: bool = False, begin: Plan | None = None
) -> Job | None:
    """Begin to plan the workbook in use; None when a job is going on or it cannot be planned.

    If it ``goes_on``, it begins with what still stands of the last plan, should there be one;
    otherwise with what stands of the plan to ``begin`` with, if there is one.
    """
    opened = desk.opened
    base = opened.book.base if opened is not None else None
    if base is None:
        return None
    last = last_plan(desk) if goes_on else begin
    had_one = result_of(desk) is not None

    desk.base_at_work = base
    work = PlanWork(base, settings, last, had_one)
    return desk.start(PLAN, opened, apart(work, work.rescued), settings.seconds, keep_improvements)


@dataclass(frozen=True, slots=True)
class PlanWork:
    """The work itself, which begins with the ``last`` plan where there is one."""

    base: Base
    settings: Settings
    last: Plan | None
    had_one: bool

    def __call__(self, tell: Tell, stop: Event) -> object:
        """Return the outcome; None for a run stopped before its first plan, if there was one.

        It takes the last plan from nobody.
        """
        outcome = plan(
            self.base,
            self.settings,
            tell,
            stop,
            begin=self.last,
            on_plan=lambda found: tell(BestSoFar(found)),
        )
        return None if isinstance(outcome, OutOfTime) and self.had_one else outcome

    def rescued(self, best: object, why: str) -> Planned:
        """Return the best plan so far of a run whose process was killed, audited once more."""
        assert isinstance(best, Plan)
        outcome = as_outcome(best, self.base, self.settings, self.settings.seconds, "fault")
        if outcome.audit.broken:
            raise AuditError(outcome.audit.broken)
        note = Message(Level.WARNING, SEARCH, f"{why}: {KILLED}", AGAIN)
        return replace(outcome, faults=(why,), notes=(note,))


def result_of(desk: Desk) -> Result | None:
    """Return the outcome of the last run that came to one."""
    answer = desk.answer(PLAN)
    if answer is None:
        return None
    assert isinstance(answer.made_from, OpenedBook)
    if isinstance(answer.value, PlanWithNews):
        news = answer.value
        return Result(answer.number, news.opened, news.outcome, news)
    assert isinstance(answer.value, Planned | Impossible | OutOfTime)
    return Result(answer.number, answer.made_from, answer.value)


def last_plan(desk: Desk) -> Plan | None:
    """Return the plan of the last run that came to one, None when it came to none."""
    result = result_of(desk)
    if result is None or not isinstance(result.outcome, Planned):
        return None
    return result.outcome.plan


def plan_before(desk: Desk) -> Plan | None:
    """Return the plan that the last one replaced on this desk, None where there was none.

    Of a re-plan it is the plan that was in force.
    """
    answer = desk.answer(PLAN)
    if answer is None:
        return None
    if isinstance(answer.value, PlanWithNews) and answer.value.earlier is not None:
        return answer.value.earlier
    return _plan_of(answer.before)


def plan_at_first(desk: Desk) -> Plan | None:
    """Return the first plan since the workbook was opened; None where it is still that one."""
    answer = desk.answer(PLAN)
    return None if answer is None else _plan_of(answer.first)


def outcome_before(desk: Desk) -> Planned | None:
    """Return what the plan that the last one replaced came to, with its plan; None without one."""
    answer, before = desk.answer(PLAN), plan_before(desk)
    found = None if answer is None else _planned_of(answer.before)
    if found is None or before is None:
        return None
    return found if found.plan.slots_by_check() == before.slots_by_check() else None


def outcome_at_first(desk: Desk) -> Planned | None:
    """Return what the first plan since the workbook was opened came to, as ``plan_at_first``."""
    answer = desk.answer(PLAN)
    return None if answer is None else _planned_of(answer.first)


def base_before(desk: Desk) -> Base | None:
    """Return the base of the plan that the last one replaced; None where it is not known."""
    answer = desk.answer(PLAN)
    if answer is None or outcome_before(desk) is None:
        return None
    before = answer.before
    made_from = before.opened if isinstance(before, PlanWithNews) else answer.before_made_from
    return made_from.book.base if isinstance(made_from, OpenedBook) else None


def _plan_of(value: object) -> Plan | None:
    outcome = _planned_of(value)
    return None if outcome is None else outcome.plan


def _planned_of(value: object) -> Planned | None:
    outcome = value.outcome if isinstance(value, PlanWithNews) else value
    return outcome if isinstance(outcome, Planned) else None


def is_outdated(desk: Desk) -> bool:
    """Return whether the workbook was changed after the plan was made."""
    answer = desk.answer(PLAN)
    return answer is not None and answer.made_from is not desk.opened


def keep_improvements(words: list[object], word: object) -> None:
    """Keep improvements, and of the words between them only the first and the last."""
    if isinstance(word, BestSoFar):
        return
    if len(words) > 1 and _standing(word) == _standing(words[-1]) == _standing(words[-2]):
        words.pop()
    words.append(word)


def progress_of(job: Job) -> tuple[Progress, ...]:
    """Return how a run has gone so far."""
    return tuple(word for word in job.words if isinstance(word, Progress))


def _standing(word: object) -> tuple[object, ...]:
    assert isinstance(word, Progress)
    return word.days_past, word.money, word.bound
