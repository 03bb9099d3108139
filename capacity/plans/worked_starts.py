"""Stages begin on a day on which somebody works: plans that say otherwise are read so."""

from dataclasses import replace

from capacity.facts import Base
from capacity.plans.plan import Plan, StageDays
from capacity.plans.worked_days import WorkedDays


def on_worked_days(plan: Plan, base: Base) -> Plan:
    """Return the plan with stages that are said to begin on a day off from the next worked day.

    Plans written before stages had to begin on worked days say the day on which a stage was
    ready. Its work is the same. A stage without a worked day stays as it is stated.
    """
    worked = WorkedDays(base)

    def told(stage: StageDays) -> StageDays:
        if not worked.count(stage.first, stage.until):
            return stage
        return replace(stage, first=worked.next(stage.first))

    return replace(
        plan,
        placements=tuple(
            replace(placement, stages=tuple(told(stage) for stage in placement.stages))
            for placement in plan.placements
        ),
    )
