"""The ways to run a check that are tried: at which pace, with which waits.

All of them where they are not too many. Where they are, only some are tried, and whatever is
proven is proven of plans with those: ``partly_tried`` names the checks, so that it is told.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Check, Status, WorkDone
from capacity.labour.day_room import day_room_of
from capacity.slots.candidates.paces_and_waits import (
    Pace,
    Waits,
    all_paces,
    count_of_paces,
    count_of_waits,
    few_paces,
    waits_of,
)
from capacity.slots.candidates.work import TINY_HOURS, Done, StageWork, kinds_by_leg, work_of

# So many ways of one check, and so many in days and ways of all checks together, still make a
# program that is quickly built. On an invented hangar of 60 checks all ways and days are 18,000.
# No settings: they say of which plans a proof speaks, which must be the same for the plan, for
# every question about it, and for the sentences on both.
MOST_WAYS = 128
MOST_COURSES = 100_000
# Where not all ways are tried: so many ways to wait are, at each of the few paces.
FEW_WAITS = 64

Works = Mapping[str, tuple[StageWork, ...]]
"""The work of each check, by its name."""


@dataclass(frozen=True)
class Ways:
    """Pairs of pace and waits, the normal pace without a wait first; ``are_all`` there are."""

    pairs: tuple[tuple[Pace, Waits], ...]
    are_all: bool


def ways_by_check(base: Base, works: Works) -> dict[str, Ways]:
    """Return the ways of each check that are tried.

    All ways of each check that has at most ``MOST_WAYS``; when that makes more than
    ``MOST_COURSES`` with the in days of all checks, all ways of those that have no more than
    ``few_ways`` only.
    """
    longest = base.longest_wait_days
    counts = {check.name: count_of_ways(works[check.name], longest) for check in base.checks}
    whole = {name: count <= MOST_WAYS for name, count in counts.items()}
    courses = sum(
        counts[check.name] * _days_to_come_in(check, base)
        for check in base.checks
        if whole[check.name]
    )
    few = courses > MOST_COURSES
    found = {}
    for name, work in works.items():
        if whole[name] and not few:
            found[name] = Ways(tuple(product(all_paces(work), waits_of(work, longest))), True)
        else:
            pairs = few_ways(work, longest)
            found[name] = Ways(pairs, len(pairs) == counts[name])
    return found


def courses_by_check(base: Base) -> dict[str, int]:
    """Return how many in days and ways of each check there are to lay out."""
    ways = ways_by_check(base, works_of(base))
    return {
        check.name: len(ways[check.name].pairs) * _days_to_come_in(check, base)
        for check in base.checks
    }


def count_of_ways(work: tuple[StageWork, ...], longest: int) -> int:
    """Return how many pairs of pace and waits there are."""
    return count_of_paces(work) * count_of_waits(work, longest)


def few_ways(work: tuple[StageWork, ...], longest: int) -> tuple[tuple[Pace, Waits], ...]:
    """Return the few paces with all ways to wait.

    When those are more than ``FEW_WAITS``, with the ways that wait ``longest`` days in all.
    """
    in_all = None if count_of_waits(work, longest) <= FEW_WAITS else longest
    return tuple(product(few_paces(work), waits_of(work, longest, in_all)))


def partly_tried(base: Base) -> tuple[str, ...]:
    """Return the checks of which not all ways are tried, in the order of the base."""
    ways = ways_by_check(base, works_of(base))
    return tuple(check.name for check in base.checks if not ways[check.name].are_all)


def works_of(base: Base) -> dict[str, tuple[StageWork, ...]]:
    """Return the work of each check."""
    skills = [skill.name for skill in base.skills]
    rooms = {package.name: day_room_of(base, package) for package in base.packages}
    return {
        check.name: _with_done(
            check.name,
            _moved_first(
                check,
                work_of(
                    check,
                    base.package_of(check),
                    skills,
                    base.shop_loops,
                    rooms[check.package],
                    base.progress_of(check.name),
                    base.not_before(check.name),
                ),
                base,
            ),
            base,
        )
        for check in base.checks
    }


def _moved_first(check: Check, work: tuple[StageWork, ...], base: Base) -> tuple[StageWork, ...]:
    """Say of the first stage left that the aircraft moves for it out of its fixed bay.

    It does where that bay does not do the stage, which nobody has begun, but did one of those that
    are done.
    """
    if check.fixed_bay is None or check.fixed_in is None or not work:
        return work
    does, left = base.bay(check.fixed_bay).work, {stage.name for stage in work}
    stages = {stage.name: stage for stage in base.package_of(check).stages}
    done = {stage.work for name, stage in stages.items() if name not in left}
    whole = sum(stages[work[0].name].asked_hours(check.findings_factor).values())
    is_begun = work[0].in_work or float(work[0].man_hours.sum()) < whole - TINY_HOURS
    if is_begun or work[0].kind in does or not done & does:
        return work
    return (replace(work[0], moves_first=True), *work[1:])


def _with_done(check: str, work: tuple[StageWork, ...], base: Base) -> tuple[StageWork, ...]:
    if not base.work_done:
        return work
    return tuple(
        replace(stage, done=_done(base.done_of(check, stage.name), base)) for stage in work
    )


def _done(told: WorkDone | None, base: Base) -> Done | None:
    if told is None:
        return None
    number = {skill.name: place for place, skill in enumerate(base.skills)}
    hours: dict[str, NDArray[np.float64]] = {}
    for one in told.hours:
        if one.skill in number:
            year, week, _ = one.monday.isocalendar()
            of_week = hours.setdefault(f"{year}-W{week:02d}", np.zeros(len(number)))
            of_week[number[one.skill]] += one.hours
    return Done(told.first, told.before, hours)


def is_settled(check: Check, work: tuple[StageWork, ...], base: Base) -> bool:
    """Return whether a check is fixed and nothing about it is left to choose."""
    if check.status is not Status.FIXED:
        return False
    bay = base.bay(check.fixed_bay or "")
    kinds = kinds_by_leg(work)
    stays = len(kinds) == 1 or set(kinds) <= bay.work
    return (stays and count_of_ways(work, base.longest_wait_days) == 1) or not work


def _days_to_come_in(check: Check, base: Base) -> int:
    """Return how many days the check's window has, those past ``Latest in`` with it."""
    if check.status is Status.FIXED:
        return 1
    delay = base.longest_delay_days if check.status is Status.BOOKED else 0
    first = max(check.earliest_in, base.first_day)
    last = (min(check.latest_in, base.last_in_day) - first).days + 1 + delay
    return max(0, last)
