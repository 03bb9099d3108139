"""Options won and lost, and what they contribute."""

from collections.abc import Iterator
from dataclasses import replace
from math import fsum

from capacity.facts import Base, Check, Status
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Plan
from capacity.questions.asking.contribution import contribution_of
from capacity.questions.asking.differences import LabourMore, costs_between, labour_more
from capacity.questions.key_figures.values import OptionResult


def option_results(
    base: Base, plan: Plan, audit: Audit, auditor: Auditor
) -> Iterator[OptionResult]:
    """Yield every option with its contribution, in the order of the workbook."""
    taken = audit.by_check()
    for check in base.checks:
        if check.status is not Status.OPTION:
            continue
        if check.name not in taken:
            # The most that it could: as if it found a bay, and regular labour, for nothing else.
            hours = man_hours_of(base, check)
            lost = contribution_of(base, check, 0.0, LabourMore(hours, hours))
            yield OptionResult(check.name, check.customer, False, check.price, hours, lost)
            continue
        without = auditor.audit(_without(plan, check.name), audit)
        cost = costs_between(without, audit, {check.name}).money
        labour = labour_more(without, audit, {check.name})
        won = contribution_of(base, check, cost, labour)
        yield OptionResult(check.name, check.customer, True, check.price, labour.man_hours, won)


def man_hours_of(base: Base, check: Check) -> float:
    """Return the man-hours of a check as a whole, findings and extra work included."""
    return fsum(
        hours
        for stage in base.package_of(check).stages
        for hours in stage.asked_hours(check.findings_factor).values()
    )


def _without(plan: Plan, name: str) -> Plan:
    placements = tuple(placement for placement in plan.placements if placement.check != name)
    return replace(plan, placements=placements, refused=(*plan.refused, name))
