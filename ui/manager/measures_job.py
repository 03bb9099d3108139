"""The job that tries what would take overtime away."""

from threading import Event

from capacity.facts import Base
from capacity.plans.outcome import Planned
from capacity.questions.overtime.measures import Lever, Levers, pull_levers
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.plan_job import result_of

LEVERS = "levers"


def start_levers(desk: Desk, seconds: float) -> Job | None:
    """Begin to try levers on the last plan; None without a plan or while a job is going on."""
    result = result_of(desk)
    if result is None or not isinstance(result.outcome, Planned):
        return None
    plan, base = result.outcome.plan, _base(result.opened.book.base)

    def work(tell: Tell, stop: Event) -> object:
        return pull_levers(plan, base, seconds, stop=stop, on_lever=tell)

    return desk.start(LEVERS, result.number, work, seconds)


def levers_of(desk: Desk) -> Levers | None:
    """Return what the levers do to the plan that is shown; None when that is not known."""
    result, answer = result_of(desk), desk.answer(LEVERS)
    if result is None or answer is None or answer.made_from != result.number:
        return None
    assert isinstance(answer.value, Levers)
    return answer.value


def tried_so_far(job: Job) -> tuple[Lever, ...]:
    """Return the levers that a job has tried until now."""
    return tuple(word for word in job.words if isinstance(word, Lever))


def _base(base: Base | None) -> Base:
    assert base is not None, "a plan was made of it"
    return base
