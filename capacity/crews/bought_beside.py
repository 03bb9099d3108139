"""Set what a crew plan buys beside what its slot plan buys in the same weeks."""

from dataclasses import replace
from datetime import date, timedelta
from math import fsum
from threading import Event

from capacity.crews.bought import Bought, Step
from capacity.crews.choice import CrewChoice
from capacity.crews.crew_problem import DAYS_A_WEEK, staffed_weeks
from capacity.crews.crew_settings import CrewSettings
from capacity.crews.model.rules_apart import least_by_step
from capacity.crews.problem import HUNDREDTHS, CrewProblem
from capacity.facts import Base, Employment
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.plans.weeks import monday_of, week_name


def bought_beside(
    plan: Plan,
    base: Base,
    settings: CrewSettings,
    problem: CrewProblem,
    choice: CrewChoice,
    crew_plan: float,
    stop: Event | None = None,
) -> Bought:
    """Compare what a crew plan buys, ``crew_plan`` man-hours, with its slot plan."""
    first_day = settings.first_day or base.first_day
    slot_plan = slot_plan_buys(plan, base, first_day, DAYS_A_WEEK * settings.weeks)
    found = Bought(slot_plan, crew_plan)
    if found.agrees:
        return found
    least = least_by_step(
        problem, choice.span, settings.search.rules_share * settings.seconds, stop
    )
    by_step: dict[Step, float] = {}
    so_far = slot_plan
    for step, hundredths in least.items():
        by_step[step] = hundredths / HUNDREDTHS - so_far
        so_far = hundredths / HUNDREDTHS
    by_step[Step.PEOPLE] = crew_plan - so_far
    return replace(found, by_step=by_step)


def slot_plan_buys(plan: Plan, base: Base, first_day: date, days: int) -> float:
    """Return the man-hours that a slot plan buys in some days beyond all crews' rosters."""
    found = audit(base, plan)
    contract_crews = {c.name for c in base.crews if c.employment is Employment.CONTRACT}
    hours = []
    for staffed in staffed_weeks(first_day, days):
        name = week_name(monday_of(first_day + timedelta(days=staffed.start)))
        bought = [w.overtime + w.contract + w.overload for w in found.weeks if w.week == name]
        by_crews = [
            -given.hours
            for given in found.crew_hours
            if given.week == name and given.crew in contract_crews
        ]
        hours.append(max(0.0, fsum((*bought, *by_crews))) * len(staffed) / DAYS_A_WEEK)
    return fsum(hours)
