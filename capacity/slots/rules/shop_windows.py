"""Shops turn round items at their daily rate, shared by all checks."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Shop
from capacity.slots.candidates.columns import Columns
from capacity.slots.candidates.enumerated import Courses
from capacity.slots.rules.rows import RowMaker, Rows

TINY_ITEMS = 1e-9


@dataclass(frozen=True)
class Jobs:
    """Items that are at a shop over ``[leave, back)``, shape (jobs,); ``course`` is whose."""

    course: NDArray[np.int64]
    leave: NDArray[np.int64]
    back: NDArray[np.int64]
    items: NDArray[np.float64]


def shop_windows(columns: Columns, base: Base) -> Rows:
    """In no window of days must a shop do more than it can.

    For every shop s and days a < b::

        sum of items[j, s, a, b] * x[j] <= rate[s] * worked days in [a, b) - those of fixed checks

    items[j, s, a, b] are those of candidate j that leave their aircraft on day a or later
    and are wanted on day b or earlier. A shop that can split its day as it likes has an
    order of work that is in time exactly when all windows keep to this (earliest due date
    first is optimal: Horn, Some simple scheduling algorithms, 1974 - from memory). Only
    windows that can be asked too much have a row.
    """
    maker = RowMaker(len(columns.check))
    slots, calendar = columns.slots, columns.slots.calendar
    owner = np.repeat(
        np.arange(len(slots.candidates)), [len(c.courses.past) for c in slots.candidates]
    )
    for shop in base.shops:
        jobs = _jobs([c.courses for c in slots.candidates], shop)
        if not len(jobs.course):
            continue
        settled = _jobs(list(slots.settled), shop)
        for first, until, capacity in _tight_windows(jobs, settled, owner, shop, columns):
            inside = (jobs.leave >= first) & (jobs.back <= until)
            of_course = np.zeros(len(owner))
            np.add.at(of_course, jobs.course[inside], jobs.items[inside])
            sizes = of_course[columns.course]
            members = np.flatnonzero(sizes)
            name = f"{shop.name} from {calendar.date(first)} until {calendar.date(until)}"
            maker.add(name, members, capacity, sizes[members])
    return maker.rows()


def _jobs(all_courses: list[Courses], shop: Shop) -> Jobs:
    """Return what the courses, numbered one after the other, send to the shop."""
    parts: list[tuple[NDArray[np.int64], ...]] = []
    before = 0
    for courses in all_courses:
        stays, count = courses.stays, len(courses.past)
        for number, stage in enumerate(courses.work):
            for loop in stage.loops:
                if loop.shop == shop.name:
                    leave = stays.begins if loop.leave is None else stays.ends[:, loop.leave]
                    items = np.full(count, loop.items)
                    mine = before + np.arange(count)
                    parts.append((mine, leave, stays.starts[:, number], items))
        before += count
    course, leave, back, items = (
        np.concatenate([np.empty(0, dtype=np.int64), *arrays])
        for arrays in (zip(*parts, strict=True) if parts else [()] * 4)
    )
    return Jobs(course, leave, back, items.astype(np.float64))


def _tight_windows(
    jobs: Jobs, settled: Jobs, owner: NDArray[np.int64], shop: Shop, columns: Columns
) -> Iterator[tuple[int, int, float]]:
    """Return first day, end and room of the windows that the checks could overfill."""
    worked = columns.slots.calendar.worked_before
    until = np.union1d(jobs.back, settled.back)
    checks = int(owner.max()) + 1
    most = np.zeros(checks)
    of_course = np.zeros(len(owner))
    np.add.at(of_course, jobs.course, jobs.items)
    np.maximum.at(most, owner, of_course)
    for first in np.union1d(jobs.leave, settled.leave):
        later = jobs.leave >= first
        soonest = np.full(checks, np.iinfo(np.int64).max)
        np.minimum.at(soonest, owner[jobs.course[later]], jobs.back[later])
        by_end = np.searchsorted(until, soonest)
        asked = np.cumsum(np.bincount(by_end, weights=most, minlength=len(until) + 1))[:-1]
        room = shop.items_per_day * (worked[until] - worked[first])
        inside = settled.leave >= first
        for place, end in enumerate(until):
            room[place] -= settled.items[inside & (settled.back <= end)].sum()
        for tight in np.flatnonzero((asked > room + TINY_ITEMS) & (until > first)):
            yield int(first), int(until[tight]), max(0.0, float(room[tight]) + TINY_ITEMS)
