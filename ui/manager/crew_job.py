"""The job that puts crews on aircraft, day and shift, and its answer on a desk."""

from threading import Event

from capacity.crews.assign import Staffed, assign_crews
from capacity.crews.crew_settings import CrewSettings
from capacity.facts import Base
from capacity.plans.plan import Plan
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.plan_question import answer_of_plan, ask_of_plan

CREWS = "crews"


def start_crews(desk: Desk, settings: CrewSettings) -> Job | None:
    """Begin to put crews on the last plan; None without one or while a job is going on."""

    def work(base: Base, plan: Plan, tell: Tell, stop: Event) -> object:
        return assign_crews(base, plan, settings, stop=stop, on_goal=tell)

    return ask_of_plan(desk, CREWS, work, settings.seconds)


def crews_of(desk: Desk) -> Staffed | None:
    """Return the crews of the plan that is shown; None when they are not known."""
    answer = answer_of_plan(desk, CREWS)
    if answer is None:
        return None
    assert isinstance(answer.value, Staffed)
    return answer.value
