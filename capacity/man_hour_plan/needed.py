"""Man-hours that a plan needs, by calendar month and skill."""

from collections import defaultdict
from collections.abc import Mapping
from datetime import date
from math import fsum

from capacity.facts import Base
from capacity.man_hour_plan.months import days_of, month_name
from capacity.plans.plan import Plan, StageDays
from capacity.plans.work_left import work_left
from capacity.plans.worked_days import WorkedDays

Needed = Mapping[tuple[str, str], float]
"""Man-hours by month such as ``2027-01`` and skill."""


def needed_by_month(base: Base, plan: Plan, worked_days: WorkedDays) -> Needed:
    """Spread each stage's man-hours, findings included, evenly over its worked days.

    Days before the first day drop out, as everywhere. The plan is one that the audit lets
    stand: every check and stage that it names is known.
    """
    parts: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    for placement in plan.placements:
        check = base.check(placement.check)
        works = {w.stage: w for w in work_left(base.package(check.package), check, base.shop_loops)}
        for stage in placement.stages:
            for month, share in _shares(stage, base.first_day, worked_days).items():
                for skill, hours in works[stage.stage].man_hours.items():
                    parts[month, skill].append(hours * share)
    return {key: fsum(hours) for key, hours in parts.items()}


def _shares(stage: StageDays, first_day: date, worked_days: WorkedDays) -> dict[str, float]:
    """Return the share of the stage's worked days that falls into each month."""
    worked = [day for day in days_of(stage.first, stage.until) if day in worked_days]
    shares: defaultdict[str, float] = defaultdict(float)
    for day in worked:
        if day >= first_day:
            shares[month_name(day)] += 1 / len(worked)
    return shares
