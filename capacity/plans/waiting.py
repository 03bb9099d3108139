"""What waits for what: the Ready dates that hold a stage of a plan back, and for how long."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from capacity.facts import Base, ReadyDate
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.plans.stays import Stay, StayLayout
from capacity.plans.worked_days import ONE_DAY, WorkedDays


@dataclass(frozen=True, slots=True)
class Waiting:
    """A Ready date of a check with a slot; ``row`` counts those of the base from 0.

    Coming in on the same day, with every other Ready date as it is, the stage starts on
    ``starts`` and could start ``waits`` calendar days sooner; the check could be out ``longer``
    days sooner. Both are 0 where the date holds nothing back. ``starts`` is None for a stage that
    is begun or done: its date is ignored.
    """

    row: int
    ready: ReadyDate
    starts: date | None
    waits: int
    longer: int


def waiting_in(plan: Plan, base: Base) -> tuple[Waiting, ...]:
    """Return the Ready dates of the checks with a slot, in the order of the base."""
    of_check = plan.by_check()
    worked = WorkedDays(base)
    found = []
    for row, ready in enumerate(base.ready_dates):
        placements = of_check.get(ready.check)
        if not placements or not base.has_check(ready.check):
            continue
        others = tuple(other for n, other in enumerate(base.ready_dates) if n != row)
        without = base.replace(ready_dates=others)
        as_it_is = _stay(base, worked, placements)
        free = _stay(without, worked, placements)
        first, sooner = _start(as_it_is, ready.stage), _start(free, ready.stage)
        found.append(
            Waiting(
                row=row,
                ready=ready,
                starts=first,
                waits=(first - sooner).days if first and sooner else 0,
                longer=max(0, (as_it_is.out_day - free.out_day).days),
            )
        )
    return tuple(found)


def _stay(base: Base, worked: WorkedDays, placements: Sequence[Placement]) -> Stay:
    """Lay a check out at the pace of a plan, moved and back from shops as soon as can be."""
    first = placements[0]
    stated = [_at_pace(s, first.in_day, worked) for p in placements for s in p.stages]
    moves = [replace(placement, in_day=first.in_day) for placement in placements[1:]]
    check = base.check(first.check)
    # What the other checks still have to do is not looked at.
    layout = StayLayout(base.replace(checks=(check,)), worked)
    return layout.lay_out(check, first.bay, first.in_day, stated, moves)


def _at_pace(stage: StageDays, in_day: date, worked: WorkedDays) -> StageDays:
    """Return a stage with as many worked days, from the in day on: it waits for no turn then."""
    days = worked.stretch(in_day, worked.count(stage.first, stage.until))
    return StageDays(stage.stage, in_day, days[-1] + ONE_DAY if days else in_day)


def _start(stay: Stay, stage: str) -> date | None:
    return next((laid.first for laid in stay.stages if laid.work.stage == stage), None)
