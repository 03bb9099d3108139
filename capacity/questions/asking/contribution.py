"""What is left of a price once the plan's added cost, regular labour and material are paid."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from capacity.facts import Base, Check
from capacity.questions.asking.differences import LabourMore


@dataclass(frozen=True, slots=True)
class Contribution:
    """What taking a check, or several together, contributes; money in the base's currency.

    ``plan_cost`` is what it adds to the cost of the plan, its price left out; ``labour`` is the
    cost of ``regular_hours``, None where the base has no labour rate, so that they are not
    counted. ``man_hours`` are all of theirs, findings included.
    """

    price: float
    plan_cost: float
    labour: float | None
    material: float
    regular_hours: float
    man_hours: float

    @property
    def costs(self) -> float:
        """Return all that is counted against the price: the price at which nothing is left."""
        return self.plan_cost + (self.labour or 0.0) + self.material

    @property
    def money(self) -> float:
        """Return price - added cost of the plan - regular labour - material.

        Common practice, no source: the contribution margin of an order, price less the costs
        that it causes.
        """
        return self.price - self.costs

    @property
    def per_man_hour(self) -> float | None:
        """Return the contribution for each man-hour of the check; None without man-hours."""
        return self.money / self.man_hours if self.man_hours > 0 else None


def contribution_of(base: Base, check: Check, plan_cost: float, labour: LabourMore) -> Contribution:
    """Return what a check contributes that adds so much cost, and so much labour, to a plan."""
    return contribution_together(base, (check,), plan_cost, labour)


def contribution_together(
    base: Base, checks: Sequence[Check], plan_cost: float, labour: LabourMore
) -> Contribution:
    """Return what checks contribute that together add so much cost, and labour, to a plan."""
    rate = base.labour_rate
    return Contribution(
        price=fsum(check.price for check in checks),
        plan_cost=plan_cost,
        labour=None if rate is None else labour.regular * rate,
        material=fsum(base.package(check.package).material_cost for check in checks),
        regular_hours=labour.regular,
        man_hours=labour.man_hours,
    )
