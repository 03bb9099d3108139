"""The plan in force as a plan of next week's workbook: the same slots, less what is behind."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from capacity.facts import Base, Check, Status
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.plans.work_left import goes_on_from, work_left
from capacity.plans.worked_days import WorkedDays


def rolled_plan(plan: Plan, base: Base) -> Plan:
    """Return the plan without what is done by the workbook of ``base``, which begins later.

    Slots stay: a check in work is in its bay from ``Fixed in`` on, also where it only waits there
    for its move, and what is left of its stages lies on the days on which it lay. Checks that the
    base does not have are left out.
    """
    worked = WorkedDays(base)
    before = plan.by_check()
    placements: list[Placement] = []
    for check in base.checks:
        placements += _of(check, before.get(check.name, []), base, worked)
    placed = {placement.check for placement in placements}
    return Plan(
        placements=tuple(sorted(placements, key=lambda p: (p.in_day, p.out_day, p.bay))),
        not_placed=tuple(
            c.name for c in base.checks if c.status is not Status.OPTION and c.name not in placed
        ),
        refused=tuple(
            c.name for c in base.checks if c.status is Status.OPTION and c.name not in placed
        ),
    )


def _of(
    check: Check, placements: Sequence[Placement], base: Base, worked: WorkedDays
) -> Iterator[Placement]:
    goes_on = goes_on_from(base, check)
    if goes_on is None:
        yield from placements
        return
    left = {work.stage for work in work_left(base, check)}
    is_first = True
    for placement in placements:
        stages = [
            _from(stage, goes_on, worked) for stage in placement.stages if stage.stage in left
        ]
        waits_here = is_first and placement.bay == check.fixed_bay and placement.out_day > goes_on
        if not stages and not waits_here:
            continue
        begins = min(stages, key=lambda stage: stage.first, default=None)
        in_day, bay = placement.in_day, placement.bay
        if is_first and check.fixed_in is not None:
            in_day, bay = check.fixed_in, check.fixed_bay or bay
        is_first = False
        yield replace(
            placement,
            bay=bay,
            in_day=in_day,
            stages=tuple(stages),
            stage_from="" if begins is None else begins.stage,
        )


def _from(stage: StageDays, day: date, worked: WorkedDays) -> StageDays:
    """Return what of a stage lies on ``day`` or later; hours stated by week are left out."""
    if stage.first >= day:
        return stage
    return replace(stage, first=worked.next(day), hours=())
