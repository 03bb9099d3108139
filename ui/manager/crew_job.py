"""The job that puts crews on aircraft, day and shift, and its answer on a desk."""

from dataclasses import dataclass
from threading import Event

from capacity.crews.assign import Staffed, assign_crews
from capacity.crews.crew_settings import CrewSettings
from capacity.crews.model.solve import GoalReached
from capacity.facts import Base
from capacity.plans.plan import Plan
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.plan_question import answer_of_plan, ask_of_plan

CREWS = "crews"


@dataclass(frozen=True, slots=True)
class _Found:
    staffed: Staffed
    was_stopped: bool


@dataclass(frozen=True, slots=True)
class CrewAnswer:
    """The crews of the plan that is shown; ``number`` counts jobs."""

    number: int
    staffed: Staffed
    was_stopped: bool


def start_crews(desk: Desk, settings: CrewSettings) -> Job | None:
    """Begin to put crews on the last plan; None without one or while a job is going on."""

    def work(base: Base, plan: Plan, tell: Tell, stop: Event) -> object:
        staffed = assign_crews(base, plan, settings, stop=stop, on_goal=tell)
        return _Found(staffed, stop.is_set())

    return ask_of_plan(desk, CREWS, work, settings.seconds)


def crew_answer(desk: Desk) -> CrewAnswer | None:
    """Return the crews of the plan that is shown; None when they are not known."""
    answer = answer_of_plan(desk, CREWS)
    if answer is None:
        return None
    found = answer.value
    assert isinstance(found, _Found)
    return CrewAnswer(answer.number, found.staffed, found.was_stopped)


def goals_so_far(job: Job) -> tuple[GoalReached, ...]:
    """Return the goals that a job has come to the end of until now."""
    return tuple(word for word in job.words if isinstance(word, GoalReached))
