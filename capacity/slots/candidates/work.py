"""The work a check asks for: its package's stages with findings, less what is done."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from graphlib import TopologicalSorter
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Check, Package, ShopLoop, Stage, WorkProgress, latest_by_stage
from capacity.slots.candidates.progress import Asked, Share, shares_left

TINY_HOURS = 1e-9
TINY_SHARE = 1e-12


@dataclass(frozen=True)
class Loop:
    """``items`` at a shop that a stage waits for; they leave at the end of stage ``leave``.

    ``leave`` is a position in the same tuple of stages; None for a stage that is done: then
    they left on the day ``left_on``, if its progress says by which it was, and else leave as the
    work that is left starts.
    """

    shop: str
    items: int
    leave: int | None
    left_on: date | None = None


@dataclass(frozen=True)
class Done:
    """What a stage that began on the day ``first`` had done ``before`` a day, in a re-plan.

    ``hours`` are man-hours by the name of the ISO week, shape (skills,).
    """

    first: date
    before: date
    hours: Mapping[str, NDArray[np.float64]]


@dataclass(frozen=True)
class StageWork:
    """A stage as it is still to be done: worked ``days`` and man-hours, shape (skills,).

    ``kind`` is the kind of work that its bay must do. ``after`` holds positions in the same
    tuple of stages, always earlier ones. At other paces it takes from ``shortest`` to
    ``longest`` worked days. It cannot start before the items of its ``loops`` are back.

    A skill's hours of a day are at most ``daily_peak`` times its even share, and those of all
    skills together at most ``day_room``, unless the even share is more; with ``into_float`` they
    may also lie behind the stage's last normal day. One ``in_work`` by the progress told of it
    keeps its equipment from the day on which the work goes on. It starts on the day ``not_before``
    at the earliest, if there is one. What is ``done`` of it in a re-plan lies where it lies.

    The first one left ``moves_first`` where the aircraft stands in a bay in which nothing is left
    to do: that is a leg by itself, without a stage, which ends with the move.
    """

    name: str
    kind: str
    days: int
    man_hours: NDArray[np.float64]
    after: tuple[int, ...]
    shortest: int
    longest: int
    alone: bool = False
    equipment: tuple[str, ...] = ()
    loops: tuple[Loop, ...] = ()
    daily_peak: float = 1.0
    into_float: bool = False
    day_room: float = math.inf
    in_work: bool = False
    done: Done | None = None
    not_before: date | None = None
    moves_first: bool = False

    @property
    def can_be_levelled(self) -> bool:
        """Return whether its hours may lie otherwise than evenly."""
        return self.daily_peak > 1.0 + TINY_SHARE or self.into_float


def work_of(
    check: Check,
    package: Package,
    skills: Iterable[str],
    loops: Iterable[ShopLoop] = (),
    day_room: Mapping[str, float] | None = None,
    progress: Sequence[WorkProgress] = (),
    not_before: Mapping[str, date] | None = None,
) -> tuple[StageWork, ...]:
    """Return the check's stages, each behind all those it has to wait for.

    Of the shop ``loops`` those of the package count. ``day_room`` are the man-hours of a day
    that ``max_heads`` leave room for, by stage; inf for a stage that is not named. ``progress``
    is that told of the check; it goes before its share that remains. ``not_before`` are the days
    on which stages are ready; a stage that is begun goes on whatever they say.
    man-hours = routine x (1 + findings x findings factor) + extra ones of this check.
    """
    skills, loops = tuple(skills), [loop for loop in loops if loop.package == package.name]
    stages = _in_order(package)
    position = {stage.name: number for number, stage in enumerate(stages)}
    work = tuple(
        StageWork(
            name=stage.name,
            kind=stage.work,
            days=stage.days,
            man_hours=_man_hours(stage, check, skills),
            after=tuple(position[name] for name in stage.after),
            shortest=stage.days if stage.shortest_days is None else stage.shortest_days,
            longest=stage.days if stage.longest_days is None else stage.longest_days,
            alone=stage.alone,
            equipment=stage.equipment,
            loops=tuple(
                Loop(loop.shop, loop.items, position[loop.leave_at])
                for loop in loops
                if loop.back_for == stage.name
            ),
            daily_peak=stage.daily_peak,
            into_float=reaches_into_float(stage, loops),
            day_room=(day_room or {}).get(stage.name, math.inf),
            not_before=(not_before or {}).get(stage.name),
        )
        for stage in stages
    )
    if progress:
        asked = [
            Asked(one.name, float(one.man_hours.sum()), one.after, stage.is_extra)
            for one, stage in zip(work, stages, strict=True)
        ]
        over = {name: row.over_on for name, row in latest_by_stage(progress).items()}
        return _at_shares(work, shares_left(asked, progress), over)
    return work if check.remaining is None else _still_to_do(work, check.remaining)


def _man_hours(stage: Stage, check: Check, skills: Sequence[str]) -> NDArray[np.float64]:
    routine = np.array([stage.man_hours.get(skill, 0.0) for skill in skills])
    extra = np.array([stage.extra_hours.get(skill, 0.0) for skill in skills])
    hours: NDArray[np.float64] = routine * (1.0 + stage.findings * check.findings_factor) + extra
    return hours


def reaches_into_float(stage: Stage, loops: Iterable[ShopLoop]) -> bool:
    """Return whether a stage's hours may lie behind its last normal day.

    Not where something is held or begins at its end: equipment, items for a shop, an aircraft
    that nobody else may work on, an inspection.
    """
    leaves = any(loop.leave_at == stage.name for loop in loops)
    holds = bool(stage.equipment) or stage.alone or stage.critical or leaves
    return stage.into_float and not holds


def _in_order(package: Package) -> list[Stage]:
    """Return the stages by earliest start in worked days, ties in the package's order."""
    by_name = {stage.name: stage for stage in package.stages}
    starts: dict[str, int] = {}
    for name in TopologicalSorter({s.name: s.after for s in package.stages}).static_order():
        before = by_name[name].after
        starts[name] = max((starts[b] + by_name[b].days for b in before), default=0)
    return sorted(package.stages, key=lambda stage: starts[stage.name])


def _at_shares(
    work: tuple[StageWork, ...],
    shares: Sequence[Share],
    over: Mapping[str | None, date | None],
) -> tuple[StageWork, ...]:
    """Take each stage by the share that is left of it; one in work waits for no shop."""
    left = {
        number: replace(
            _at_share(stage, share.left),
            loops=() if share.in_work else _gone(stage.loops, work, over),
            in_work=share.in_work,
            not_before=None if share.in_work else stage.not_before,
        )
        for number, (stage, share) in enumerate(zip(work, shares, strict=True))
        if share.left > TINY_HOURS
    }
    return _renumbered(left)


def _gone(
    loops: Iterable[Loop], work: Sequence[StageWork], over: Mapping[str | None, date | None]
) -> tuple[Loop, ...]:
    """Say of items when they left, where the stage that they leave at is told to be done."""
    return tuple(
        loop if loop.leave is None else replace(loop, left_on=over.get(work[loop.leave].name))
        for loop in loops
    )


def _at_share(stage: StageWork, share: float) -> StageWork:
    """Return a stage with a share of its man-hours, and of its days rounded up."""
    return replace(
        stage,
        days=_days_left(stage.days, share),
        man_hours=stage.man_hours * share,
        shortest=_days_left(stage.shortest, share),
        longest=_days_left(stage.longest, share),
    )


def _still_to_do(work: tuple[StageWork, ...], remaining: float) -> tuple[StageWork, ...]:
    """Take the finished share of the man-hours off the front, stage by stage.

    The stage in which the share runs out keeps its hours left and as many whole days as
    they are worth; having begun, it waits for no shop.
    """
    done = (1.0 - remaining) * sum(float(stage.man_hours.sum()) for stage in work)
    if done <= TINY_HOURS:
        return work
    left: dict[int, StageWork] = {}
    until = 0.0
    for number, stage in enumerate(work):
        hours = float(stage.man_hours.sum())
        until += hours
        if until <= done + TINY_HOURS:
            continue
        share = 1.0 if until - hours >= done else (until - done) / hours
        left[number] = replace(
            _at_share(stage, share),
            loops=stage.loops if share == 1.0 else (),
            not_before=stage.not_before if share == 1.0 else None,
        )
    return _renumbered(left)


def _days_left(days: int, share: float) -> int:
    return max(1, math.ceil(days * share - TINY_HOURS))


def _renumbered(left: dict[int, StageWork]) -> tuple[StageWork, ...]:
    position = {old: new for new, old in enumerate(left)}
    return tuple(
        replace(
            stage,
            after=tuple(position[old] for old in stage.after if old in position),
            loops=tuple(
                replace(loop, leave=None if loop.leave is None else position.get(loop.leave))
                for loop in stage.loops
            ),
        )
        for stage in left.values()
    )


def kinds_by_leg(work: tuple[StageWork, ...]) -> tuple[str, ...]:
    """Return the kind of work of each leg: a run of stages that need the same kind.

    A check with nothing left to do has one leg that needs no kind, and one that has nothing left
    to do in the bay in which it stands begins with such a leg.
    """
    kinds = tuple(kind for kind, _ in groupby(stage.kind for stage in work))
    return ("", *kinds) if _legs_before(work) else kinds or ("",)


def legs_of(work: tuple[StageWork, ...]) -> tuple[int, ...]:
    """Return the leg of each stage, counted from 0."""
    runs = groupby(stage.kind for stage in work)
    return tuple(leg for leg, (_, run) in enumerate(runs, _legs_before(work)) for _ in run)


def _legs_before(work: tuple[StageWork, ...]) -> int:
    """Return how many legs without a stage there are before the first stage: none, or one."""
    return int(bool(work) and work[0].moves_first)
