"""What levelling does to a plan: hours that lie in other weeks than evenly, and what it saves."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from capacity.facts import Base
from capacity.plans.audit import Audit, audit
from capacity.plans.laid_plan import stays_of
from capacity.plans.plan import Plan
from capacity.plans.spread import even_by_week, hours_by_week
from capacity.plans.week_hours import TOLERANCE
from capacity.plans.weeks import week_name


@dataclass(frozen=True, slots=True)
class StageWeek:
    """Man-hours of one skill of a stage in one ISO week, and those of the even spread there."""

    check: str
    stage: str
    skill: str
    week: str
    hours: float
    evenly: float

    @property
    def moved(self) -> float:
        """Return the hours that levelling brings into the week; negative where it takes some."""
        return self.hours - self.evenly


@dataclass(frozen=True, slots=True)
class Levelling:
    """What levelling comes to in one plan.

    ``saved`` is what spreading every stage evenly would cost more in the same slots, in the
    base's currency; ``moved`` are the man-hours that lie in another week than they would then;
    ``evenly`` is the audit of that plan.
    """

    saved: float
    moved: float
    weeks: tuple[StageWeek, ...]
    evenly: Audit


def levelling_of(plan: Plan, base: Base, audited: Audit) -> Levelling | None:
    """Return what levelling does to an audited plan; None where all hours lie evenly."""
    if not any(stage.hours for placement in plan.placements for stage in placement.stages):
        return None
    weeks = tuple(_stage_weeks(plan, base))
    evenly = audit(base, spread_evenly(plan))
    return Levelling(
        saved=evenly.goals.money - audited.goals.money,
        moved=sum(max(0.0, one.moved) for one in weeks),
        weeks=weeks,
        evenly=evenly,
    )


def spread_evenly(plan: Plan) -> Plan:
    """Return the plan with the hours of every stage spread evenly over its worked days."""
    return replace(
        plan,
        placements=tuple(placement.without_hours() for placement in plan.placements),
    )


def _stage_weeks(plan: Plan, base: Base) -> Iterator[StageWeek]:
    """Go through the weeks of all stages whose hours are stated, check by check."""
    skills = {skill.name: number for number, skill in enumerate(base.skills)}
    for name, stay in stays_of(plan, base).items():
        for stage in stay.stages:
            if not stage.stated:
                continue
            there = hours_by_week(stage, base.first_day)
            even = even_by_week(stage, base.first_day)
            for monday, skill in sorted({*there, *even}, key=lambda key: (skills[key[1]], key[0])):
                hours, evenly = there.get((monday, skill), 0.0), even.get((monday, skill), 0.0)
                if max(hours, evenly) > TOLERANCE:
                    yield StageWeek(name, stage.work.stage, skill, week_name(monday), hours, evenly)
