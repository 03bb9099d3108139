"""The job that tries what would take overtime away."""

from threading import Event

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.questions.overtime.measures import Measure, Measures, try_measures
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.plan_question import answer_of_plan, ask_of_plan
from ui.desk.search_settings import search_settings

MEASURES = "measures"


def start_measures(desk: Desk, seconds: float) -> Job | None:
    """Begin to try measures on the last plan; None without one or while a job is going on."""

    def work(base: Base, plan: Plan, tell: Tell, stop: Event) -> object:
        return try_measures(base, plan, search_settings(seconds), stop=stop, on_measure=tell)

    return ask_of_plan(desk, MEASURES, work, seconds)


def measures_of(desk: Desk) -> Measures | None:
    """Return what the measures do to the plan that is shown; None when that is not known."""
    answer = answer_of_plan(desk, MEASURES)
    if answer is None:
        return None
    assert isinstance(answer.value, Measures)
    return answer.value


def tried_so_far(job: Job) -> tuple[Measure, ...]:
    """Return the measures that a job has tried until now."""
    return tuple(word for word in job.words if isinstance(word, Measure))
