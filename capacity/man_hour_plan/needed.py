"""Man-hours that a plan needs, by calendar month and skill."""

from collections import defaultdict
from collections.abc import Mapping
from math import fsum

from capacity.facts import Base
from capacity.man_hour_plan.months import month_name
from capacity.plans.laid_plan import stays_of
from capacity.plans.man_hours import asked_by_day
from capacity.plans.plan import Plan

Needed = Mapping[tuple[str, str], float]
"""Man-hours by month such as ``2027-01`` and skill."""


def needed_by_month(base: Base, plan: Plan) -> Needed:
    """Add up the man-hours of the days of each month, findings included.

    They lie as the plan states them, those of a week evenly over the days on which the stage may
    be worked; or evenly over the stage's worked days. Days before the first day drop out, as
    everywhere. The plan is one that the audit lets stand.
    """
    parts: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    for stay in stays_of(plan, base).values():
        for (day, skill), hours in asked_by_day(stay, base.first_day).items():
            parts[month_name(day), skill].append(hours)
    return {key: fsum(hours) for key, hours in parts.items()}
