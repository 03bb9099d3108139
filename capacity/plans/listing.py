"""A plan of an earlier state of a base, as that base's own plan would be written down."""

from datetime import date

from capacity.facts import Base, Status
from capacity.plans.plan import Plan


def listed_anew(plan: Plan, base: Base) -> Plan:
    """Return the plan without checks that the base does not have, nobody being forgotten.

    Checks of the base without a placement are not placed, options without one are refused.
    """
    known = {check.name for check in base.checks}
    placements = tuple(p for p in plan.placements if p.check in known)
    placed = {placement.check for placement in placements}
    missing = [check for check in base.checks if check.name not in placed]
    return Plan(
        placements=placements,
        not_placed=tuple(c.name for c in missing if c.status is not Status.OPTION),
        refused=tuple(c.name for c in missing if c.status is Status.OPTION),
    )


def lies_within(plan: Plan, base: Base, first: date, last: date) -> bool:
    """Return whether a plan names bays of the base only, and days in ``[first, last]`` only.

    One that does not cannot keep the base's rules; it need not be audited.
    """
    bays = {bay.name for bay in base.bays}
    days = [day for p in plan.placements for day in (p.in_day, p.out_day)]
    days += [day for p in plan.placements for s in p.stages for day in (s.first, s.until)]
    return {p.bay for p in plan.placements} <= bays and all(first <= day <= last for day in days)
