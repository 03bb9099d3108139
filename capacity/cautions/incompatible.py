"""Stages of a plan that overlap though their work does not go together."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from capacity.cautions.activities import Sign, signs_of
from capacity.cautions.caution import SourceStatus
from capacity.cautions.matrix import MATRIX, Incompatible, Reach
from capacity.facts import Base, Bay
from capacity.plans.hours_within import stretched
from capacity.plans.plan import Plan
from capacity.plans.worked_days import WorkedDays

DECIDE = "local rules and licensed staff decide"
ON_ONE_AIRCRAFT = f"Put one After the other, or make it Alone; {DECIDE}."
ON_ONE_FLOOR = f"Move one of the checks to other days or to another floor; {DECIDE}."


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two stages that are worked on the same ``days`` though they do not go together.

    ``check`` and ``stage`` are those with the work that ``what`` names first. ``is_guess``
    is True where only names suggest the kind of work of either; ``signs`` tell why each is
    taken for it.
    """

    check: str
    stage: str
    other_check: str
    other_stage: str
    days: tuple[date, ...]
    what: str
    signs: tuple[str, ...]
    is_guess: bool
    source: str
    status: SourceStatus
    remedy: str


@dataclass(frozen=True, slots=True)
class _Use:
    """A stage at its place, the days on which it is worked, and what it is taken for."""

    check: str
    stage: str
    bay: str
    days: frozenset[date]
    signs: tuple[Sign, ...]


def incompatible_work(plan: Plan, base: Base) -> tuple[Conflict, ...]:
    """Return every pair of stages that overlap on a worked day against the matrix.

    Stages of one check are held against the whole matrix, those of two checks in one bay or
    on one floor against what reaches so far. A stage of the same kind of work, such as two
    stages of painting, is not told. The plan is one that the audit lets stand. A stage of
    which hours lie in its float is worked to the last day on which they may.
    """
    uses = _uses(stretched(plan, base), base)
    floors = _floors(base.bays)
    of_check: defaultdict[str, list[_Use]] = defaultdict(list)
    in_bay: defaultdict[str, list[_Use]] = defaultdict(list)
    for use in uses:
        of_check[use.check].append(use)
        in_bay[use.bay].append(use)
    return tuple(
        conflict
        for first in uses
        if first.signs
        for second in (*of_check[first.check], *_on_floor(first, in_bay, floors[first.bay]))
        if second is not first
        for conflict in _conflicts(first, second)
    )


def _uses(plan: Plan, base: Base) -> list[_Use]:
    worked_days = WorkedDays(base)
    stages = {name: base.stages_of(name) for name in {p.check for p in plan.placements}}
    return [
        _Use(
            placement.check,
            stage.stage,
            placement.bay,
            _worked(stage.first, stage.until, worked_days),
            signs_of(stages[placement.check][stage.stage]),
        )
        for placement in plan.placements
        for stage in placement.stages
    ]


def _worked(first: date, until: date, worked_days: WorkedDays) -> frozenset[date]:
    days = (first + timedelta(days=number) for number in range((until - first).days))
    return frozenset(day for day in days if day in worked_days)


def _floors(bays: Sequence[Bay]) -> Mapping[str, frozenset[str]]:
    """Return the bays on the floor of each: those it shares floor with, whoever names whom.

    Two narrow positions within a wide one stand side by side on its floor.
    """
    shared: dict[str, set[str]] = {bay.name: {bay.name} for bay in bays}
    for bay in bays:
        for name in bay.shares_floor_with:
            shared[bay.name].add(name)
            shared[name].add(bay.name)
    return {
        name: frozenset(beside for near in direct for beside in shared[near])
        for name, direct in shared.items()
    }


def _on_floor(use: _Use, in_bay: Mapping[str, list[_Use]], floor: frozenset[str]) -> Iterator[_Use]:
    """Go through the stages of other checks on the same floor."""
    for bay in sorted(floor):
        yield from (other for other in in_bay.get(bay, ()) if other.check != use.check)


def _conflicts(first: _Use, second: _Use) -> Iterator[Conflict]:
    """Tell, for each activity of the first stage, the first pair of the matrix that it breaks."""
    days = first.days & second.days
    if not days:
        return
    is_one_aircraft = first.check == second.check
    told = set()
    for pair in MATRIX:
        in_reach = is_one_aircraft or pair.reach is Reach.FLOOR
        if in_reach and pair.one not in told and (signs := _signs(pair, first, second)):
            told.add(pair.one)
            yield _conflict(pair, first, second, days, signs)


def _signs(pair: Incompatible, first: _Use, second: _Use) -> tuple[Sign, ...]:
    """Return the signs that make the pair of the two stages; none where they are no pair."""
    mine = {sign.activity: sign for sign in first.signs}
    its = {sign.activity: sign for sign in second.signs}
    if pair.one not in mine:
        return ()
    if pair.other is None:
        return () if pair.one in its else (mine[pair.one],)
    return (mine[pair.one], its[pair.other]) if pair.other in its else ()


def _conflict(
    pair: Incompatible, first: _Use, second: _Use, days: frozenset[date], signs: tuple[Sign, ...]
) -> Conflict:
    other = pair.other or "any other work"
    return Conflict(
        check=first.check,
        stage=first.stage,
        other_check=second.check,
        other_stage=second.stage,
        days=tuple(sorted(days)),
        what=f"{pair.one} and {other} {pair.reach}",
        signs=tuple(sign.why for sign in signs),
        is_guess=any(sign.is_guess for sign in signs),
        source=pair.source,
        status=pair.status,
        remedy=ON_ONE_AIRCRAFT if first.check == second.check else ON_ONE_FLOOR,
    )
