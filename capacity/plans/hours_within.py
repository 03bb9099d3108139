"""How much of what a plan states of a stage falls into some days, its float days among them."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from math import fsum

from capacity.facts import Base, WorkDone
from capacity.plans.laid_plan import stays_of
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.plans.stays import LaidStage
from capacity.plans.week_hours import TOLERANCE
from capacity.plans.weeks import monday_of, week_name
from capacity.plans.worked_days import ONE_DAY, WorkedDays


def stretched(plan: Plan, base: Base) -> Plan:
    """Return the plan with every stage running to the last day on which its hours may lie.

    Only stages whose hours need their float are longer than they are stated: up to the last float
    day of the last week in which they have hours. The out day stays what it is.
    """
    if not any(stage.hours for placement in plan.placements for stage in placement.stages):
        return plan
    laid = {
        (name, stage.work.stage): stage
        for name, stay in stays_of(plan, base).items()
        for stage in stay.stages
    }
    return replace(
        plan, placements=tuple(_stretched(placement, laid) for placement in plan.placements)
    )


def _stretched(placement: Placement, laid: Mapping[tuple[str, str], LaidStage]) -> Placement:
    stages = tuple(
        replace(stated, until=_until(stated, laid[placement.check, stated.stage]))
        for stated in placement.stages
    )
    return replace(placement, stages=stages)


def _until(stated: StageDays, laid: LaidStage) -> date:
    weeks = {one.week for one in stated.hours if one.hours > TOLERANCE and not one.by_day}
    days = {on for one in stated.hours for on, hours in one.by_day if hours > TOLERANCE}
    used = [day for day in laid.float_days if day in days or week_name(monday_of(day)) in weeks]
    return max([stated.until, *(day + ONE_DAY for day in used)])


def hours_within(
    stated: StageDays,
    first: date,
    until: date,
    first_day: date,
    worked_days: WorkedDays,
    done: WorkDone | None = None,
) -> Mapping[str, float]:
    """Return the stated hours of a stretched stage by skill that fall into ``[first, until)``.

    Those of a week lie on the days that are stated, or evenly over the days from ``first_day`` on
    that the stage may be worked.
    What is ``done`` of it lies on the days before a re-plan, and the rest on those from then on.
    """
    days = worked_days.stretch(stated.first, worked_days.count(stated.first, stated.until))
    split = done.before if done is not None and done.first == stated.first else first_day
    was_done: defaultdict[tuple[str, str], float] = defaultdict(float)
    for one in done.hours if done is not None and split == done.before else ():
        was_done[week_name(one.monday), one.skill] += one.hours
    # Days of each week: in it and within, before the split and from then on.
    in_week: defaultdict[tuple[str, bool], int] = defaultdict(int)
    here: defaultdict[tuple[str, bool], int] = defaultdict(int)
    for day in days:
        key = week_name(monday_of(day)), day < split
        in_week[key] += day >= first_day
        here[key] += day >= first_day and first <= day < until
    parts: defaultdict[str, list[float]] = defaultdict(list)
    for hours in stated.hours:
        if hours.by_day:
            parts[hours.skill] += [amount for on, amount in hours.by_day if first <= on < until]
            continue
        before, then = (hours.week, True), (hours.week, False)
        past = min(hours.hours, was_done[hours.week, hours.skill]) if in_week[before] else 0.0
        if not in_week[then]:
            past = hours.hours
        for key, amount in ((before, past), (then, hours.hours - past)):
            if here[key] and amount:
                parts[hours.skill].append(amount * here[key] / in_week[key])
    return {skill: fsum(amounts) for skill, amounts in parts.items()}
