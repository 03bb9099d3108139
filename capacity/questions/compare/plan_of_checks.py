"""A plan with the checks that it was made for."""

from collections.abc import Collection
from dataclasses import dataclass

from capacity.facts import Base
from capacity.plans.plan import Plan


@dataclass(frozen=True, slots=True)
class PlanOfChecks:
    """A plan with its base and the checks that it was made for, known to that base or not."""

    plan: Plan
    base: Base
    checks: frozenset[str]


def only(one: PlanOfChecks, names: Collection[str]) -> PlanOfChecks:
    """Return plan and base with no other checks than those of some names."""
    plan = Plan(
        tuple(p for p in one.plan.placements if p.check in names),
        tuple(name for name in one.plan.not_placed if name in names),
        tuple(name for name in one.plan.refused if name in names),
    )
    checks = tuple(check for check in one.base.checks if check.name in names)
    return PlanOfChecks(plan, one.base.replace(checks=checks), frozenset(names))
