"""A plan from check, bay and in day alone."""

from collections.abc import Iterable
from datetime import date

from capacity.facts import Base
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.plans.stays import StayLayout
from capacity.plans.worked_days import WorkedDays


def laid_plan(base: Base, places: Iterable[tuple[str, str, date]]) -> Plan:
    """Return the plan with each check in its bay from its in day on; others are left out."""
    layout = StayLayout(base, WorkedDays(base))
    checks = {check.name: check for check in base.checks}
    placements = []
    for name, bay, in_day in places:
        stay = layout.lay_out(checks[name], bay, in_day)
        stages = tuple(StageDays(s.work.stage, s.first, s.until) for s in stay.stages)
        placements.append(Placement(name, bay, stages[0].stage, in_day, stay.out_day, stages))
    placed = {placement.check for placement in placements}
    left_out = [check for check in base.checks if check.name not in placed]
    return Plan(
        placements=tuple(placements),
        not_placed=tuple(check.name for check in left_out if check.status != "option"),
        refused=tuple(check.name for check in left_out if check.status == "option"),
    )
