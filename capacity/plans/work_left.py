"""What a check still has to do: its package with findings, less the work already done."""

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from graphlib import TopologicalSorter
from itertools import accumulate, groupby
from math import ceil, fsum

from capacity.facts import Base, Check, ShopLoop, Stage, WorkProgress, latest_by_stage
from capacity.plans.extra_work import stages_of
from capacity.plans.progress_left import Left, Planned, left_by_stage

TOLERANCE = 1e-9
"""Man-hours (or days) that are no more than the rounding of a sum."""


@dataclass(frozen=True, slots=True)
class Errand:
    """``items`` at a shop, sent at the end of the stage ``leave_at``.

    None stands for a stage that is done: they went on the day ``left_on`` by which its progress
    says so; where none does, they go as the work that is left starts.
    """

    shop: str
    items: int
    leave_at: str | None
    left_on: date | None = None


@dataclass(frozen=True, slots=True)
class Work:
    """A stage that is still to do.

    ``kind`` is the kind of work, ``days`` are the normal worked days; it may take any number
    from ``shortest`` to ``longest``. ``man_hours`` include findings. ``after`` names only
    stages that are themselves still to do. One piece of each pool in ``equipment`` is held
    as long as it lasts; no other stage of the check runs beside one that is ``alone``. It
    does not start before all its ``errands`` are back.

    Of each skill's hours a day takes at most ``daily_peak`` times the even share; ``max_heads``
    are on the aircraft at once, by night too unless ``by_night`` says otherwise. With
    ``into_float`` hours may lie behind its last normal day. One that is ``in_work`` by the
    progress stated for it waits for no shop, and keeps its equipment from the day on which the work
    goes on. It starts on ``not_before`` at the earliest, where that is set. One that
    ``is_extra`` is none of its package.
    """

    stage: str
    kind: str
    days: int
    shortest: int
    longest: int
    man_hours: dict[str, float]
    after: tuple[str, ...]
    equipment: frozenset[str]
    alone: bool
    errands: tuple[Errand, ...] = ()
    daily_peak: float = 1.0
    into_float: bool = False
    max_heads: int | None = None
    by_night: bool = True
    in_work: bool = False
    not_before: date | None = None
    is_extra: bool = False

    @property
    def has_paces(self) -> bool:
        """Whether it may take another number of days than its normal one."""
        return self.shortest < self.longest

    @property
    def total(self) -> float:
        """Man-hours over all skills."""
        return fsum(self.man_hours.values())


def work_left(base: Base, check: Check) -> tuple[Work, ...]:
    """Return the stages left to do, in the order in which the network lets them start.

    What is done follows from the rows of ``Progress`` of the check, else by its ``Remaining %``.
    """
    works = _whole_works(base, check)
    rows = [row for row in base.progress if row.check == check.name]
    if rows:
        over = {name: row.over_on for name, row in latest_by_stage(rows).items()}
        return _by_progress(works, left_by_stage(_planned(works), rows), over)
    if check.remaining is None:
        return tuple(works)
    return _without_done(works, check.remaining)


def planned_stages(base: Base, check: Check) -> tuple[Planned, ...]:
    """Return all stages of a check as planned, those done with them, in network order."""
    return _planned(_whole_works(base, check))


def _planned(works: Iterable[Work]) -> tuple[Planned, ...]:
    return tuple(Planned(work.stage, work.total, work.after, work.is_extra) for work in works)


def _whole_works(base: Base, check: Check) -> list[Work]:
    own = [loop for loop in base.shop_loops if loop.package == check.package]
    works = [_whole(stage, check, own) for stage in _network_order(stages_of(base, check))]
    return [replace(work, not_before=_ready(base, check, work.stage)) for work in works]


def _ready(base: Base, check: Check, stage: str) -> date | None:
    """Return the latest of a stage's Ready dates; None without any."""
    mine = [r.not_before for r in base.ready_dates if (r.check, r.stage) == (check.name, stage)]
    return max(mine, default=None)


def goes_on_from(base: Base, check: Check) -> date | None:
    """Return the day from which the work left on a check counts; None for one that is whole.

    The latest ``As of`` of its progress, not before the first day of the plan; else today in a
    re-plan, and the first day otherwise, where ``Remaining %`` is given. With all of its work
    ``Finished`` the day after the last of it, on which the check leaves.
    """
    told = [row for row in base.progress if row.check == check.name]
    if told:
        last = _last_finished(base, check, told)
        if last is not None:
            return last + timedelta(days=1)
        return max(*(row.as_of for row in told), base.first_day)
    if check.remaining is None:
        return None
    return base.work_counts_from or base.first_day


def _last_finished(base: Base, check: Check, told: Iterable[WorkProgress]) -> date | None:
    """Return the last day of all work, where it is over and people have said on which days.

    They have said so of the check as a whole, or of each of its stages.
    """
    if work_left(base, check):
        return None
    said = {name: row.finished for name, row in latest_by_stage(told).items() if row.finished}
    of_stages = {stage.name for stage in stages_of(base, check)}
    return max(said.values()) if None in said or of_stages <= said.keys() else None


def legs_of(works: Sequence[Work]) -> tuple[tuple[Work, ...], ...]:
    """Return the runs of stages that need the same kind of work, in order."""
    return tuple(tuple(run) for _, run in groupby(works, key=lambda work: work.kind))


def moves_first(base: Base, check: Check, works: Sequence[Work]) -> bool:
    """Return whether a fixed check has to leave its bay before anything else is done on it.

    So it is where some of its work is done and the bay did that, or a part of it, but does not do
    the first stage that is left, which nobody has begun elsewhere.
    """
    if not works or check.fixed_bay is None or check.fixed_in is None:
        return False
    does = next((bay.work for bay in base.bays if bay.name == check.fixed_bay), frozenset())
    left = {work.stage for work in works}
    was_done_there = any(s.name not in left and s.work in does for s in stages_of(base, check))
    whole = {one.stage: one.man_hours for one in planned_stages(base, check)}[works[0].stage]
    is_begun = works[0].in_work or works[0].total < whole - TOLERANCE
    return was_done_there and works[0].kind not in does and not is_begun


def _whole(stage: Stage, check: Check, loops: Iterable[ShopLoop]) -> Work:
    """Take a stage whole: ``routine * (1 + findings * findings_factor) + extra`` man-hours.

    A fixed check stands in bay and in day only: it too runs at any pace.
    """
    growth = 1 + stage.findings * check.findings_factor
    asked = {skill: hours * growth for skill, hours in stage.man_hours.items()}
    for skill, hours in stage.extra_hours.items():
        asked[skill] = asked.get(skill, 0.0) + hours
    return Work(
        stage=stage.name,
        kind=stage.work,
        days=stage.days,
        shortest=stage.shortest_days or stage.days,
        longest=stage.longest_days or stage.days,
        man_hours=asked,
        after=stage.after,
        equipment=frozenset(stage.equipment),
        alone=stage.alone,
        errands=tuple(
            Errand(loop.shop, loop.items, loop.leave_at)
            for loop in loops
            if loop.back_for == stage.name
        ),
        daily_peak=stage.daily_peak,
        into_float=stage.into_float and not _holds_something(stage, loops),
        max_heads=stage.max_heads,
        by_night=stage.by_night,
        is_extra=stage.is_extra,
    )


def _holds_something(stage: Stage, loops: Iterable[ShopLoop]) -> bool:
    """Return whether something ends with the stage, so that its work cannot go on behind it."""
    sends = any(loop.leave_at == stage.name for loop in loops)
    return stage.alone or stage.critical or bool(stage.equipment) or sends


def _network_order(of_check: Sequence[Stage]) -> list[Stage]:
    """Sort the stages by earliest start in worked days; ties stay as they are."""
    stages = {stage.name: stage for stage in of_check}
    network = {stage.name: stage.after for stage in of_check}
    start: dict[str, int] = {}
    for name in TopologicalSorter(network).static_order():
        start[name] = max((start[a] + stages[a].days for a in network[name]), default=0)
    return sorted(of_check, key=lambda stage: start[stage.name])


def _by_progress(
    works: Sequence[Work], left: Left, over: Mapping[str | None, date | None]
) -> tuple[Work, ...]:
    """Take each stage by its share that is left: man-hours, and days rounded up."""
    gone = {work.stage for work in works if work.stage not in left.shares}
    rest = (
        replace(
            _at_share(work, left.shares[work.stage]),
            errands=() if work.stage in left.begun else work.errands,
            in_work=work.stage in left.begun,
            not_before=None if work.stage in left.begun else work.not_before,
        )
        for work in works
        if work.stage in left.shares
    )
    return tuple(_without(gone, work, over) for work in rest)


def _without_done(works: Sequence[Work], remaining: float) -> tuple[Work, ...]:
    """Take out what is done, stage by stage, until ``remaining`` of the man-hours is left.

    The stage in which the work stands keeps the man-hours that are left of it and as large
    a share of its days, shortest and longest too, rounded up; the stages behind it stay
    whole.
    """
    so_far = list(accumulate(work.total for work in works))
    done = (1 - remaining) * fsum(work.total for work in works)
    if done <= TOLERANCE:
        return tuple(works)
    finished = bisect_right(so_far, done + TOLERANCE)
    if finished == len(works):
        return ()
    begun = works[finished]
    gone = {work.stage for work in works[:finished]}
    left = so_far[finished] - done
    rest = (_partly_done(begun, left), *works[finished + 1 :])
    return tuple(_without(gone, work) for work in rest)


def _partly_done(work: Work, left: float) -> Work:
    """Keep ``left`` man-hours of a stage; begun, it waits for no items and no Ready date."""
    if left >= work.total - TOLERANCE:
        return work
    return replace(_at_share(work, left / work.total), errands=(), not_before=None)


def _at_share(work: Work, share: float) -> Work:
    """Return a share of a stage's man-hours, and of its days rounded up."""
    return replace(
        work,
        days=_share_of_days(work.days, share),
        shortest=_share_of_days(work.shortest, share),
        longest=_share_of_days(work.longest, share),
        man_hours={skill: hours * share for skill, hours in work.man_hours.items()},
    )


def _without(
    gone: set[str], work: Work, over: Mapping[str | None, date | None] | None = None
) -> Work:
    """Take the stages that are done out of what a stage waits for."""
    return replace(
        work,
        after=tuple(name for name in work.after if name not in gone),
        errands=tuple(
            replace(errand, leave_at=None, left_on=(over or {}).get(errand.leave_at))
            if errand.leave_at in gone
            else errand
            for errand in work.errands
        ),
    )


def _share_of_days(days: int, share: float) -> int:
    return max(1, ceil(days * share - TOLERANCE))
