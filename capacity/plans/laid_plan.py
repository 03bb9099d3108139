"""The stays of a whole plan, laid out again from the facts."""

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.plans.stays import Stay, StayLayout
from capacity.plans.worked_days import WorkedDays


def stays_of(plan: Plan, base: Base) -> dict[str, Stay]:
    """Return the stay of every check of a plan that the audit lets stand, by the check's name."""
    layout = StayLayout(base, WorkedDays(base))
    stays = {}
    for name, placements in plan.by_check().items():
        stated = [stage for placement in placements for stage in placement.stages]
        first, *further = sorted(placements, key=lambda placement: placement.in_day)
        stays[name] = layout.lay_out(base.check(name), first.bay, first.in_day, stated, further)
    return stays
