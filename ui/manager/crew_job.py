"""The job that puts crews on aircraft, day and shift, and its answer on a desk."""

from threading import Event

from capacity.crews.assign import Staffed, assign_crews
from capacity.crews.crew_settings import CrewSettings
from capacity.plans.outcome import Planned
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.plan_job import result_of

CREWS = "crews"


def start_crews(desk: Desk, settings: CrewSettings) -> Job | None:
    """Begin to put crews on the last plan; None without one or while a job is going on."""
    result = result_of(desk)
    if result is None or not isinstance(result.outcome, Planned):
        return None
    plan, base = result.outcome.plan, result.opened.book.base
    assert base is not None

    def work(tell: Tell, stop: Event) -> object:
        return assign_crews(plan, base, settings, stop, tell)

    return desk.start(CREWS, result.number, work, settings.seconds)


def crews_of(desk: Desk) -> Staffed | None:
    """Return the crews of the plan that is shown; None when they are not known."""
    result, answer = result_of(desk), desk.answer(CREWS)
    if result is None or answer is None or answer.made_from != result.number:
        return None
    assert isinstance(answer.value, Staffed)
    return answer.value
