"""A plan from check, bay and in day, and where asked from moves and stages that take longer."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from capacity.facts import Base
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.plans.stays import Stay, StayLayout
from capacity.plans.worked_days import WorkedDays

Move = tuple[str, date]


def laid_plan(
    base: Base,
    places: Iterable[tuple[str, str, date]],
    moves: Mapping[str, Sequence[Move]] | None = None,
    stated: Mapping[str, Sequence[StageDays]] | None = None,
) -> Plan:
    """Return the plan with each check in its bay from its in day on; others are left out.

    ``moves`` are the later bays of a check with the days on which it comes there; ``stated``
    are stages of a check that wait for a shop or take other days than the usual ones.
    """
    moves, stated = moves or {}, stated or {}
    layout = StayLayout(base, WorkedDays(base))
    checks = {check.name: check for check in base.checks}
    placements: list[Placement] = []
    for name, bay, in_day in places:
        going_to = [Placement(name, to, "", day, day, ()) for to, day in moves.get(name, ())]
        stay = layout.lay_out(checks[name], bay, in_day, stated.get(name, ()), going_to)
        placements += _placements(stay)
    placed = {placement.check for placement in placements}
    left_out = [check for check in base.checks if check.name not in placed]
    return Plan(
        placements=tuple(placements),
        not_placed=tuple(check.name for check in left_out if check.status != "option"),
        refused=tuple(check.name for check in left_out if check.status == "option"),
    )


def _placements(stay: Stay) -> Iterable[Placement]:
    for visit in stay.visits:
        stages = tuple(StageDays(s.work.stage, s.first, s.until) for s in visit.stages)
        yield Placement(
            stay.check.name, visit.bay, stages[0].stage, visit.in_day, visit.out_day, stages
        )
