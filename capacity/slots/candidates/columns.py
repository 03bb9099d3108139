"""The candidates of all movable checks side by side: the columns of the program."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array, hstack, vstack

from capacity.slots.candidates.enumerated import Courses, LaidOut, Slots, Visits
from capacity.slots.candidates.levelling import LIMITS


@dataclass(frozen=True)
class Columns:
    """One entry a candidate, check by check, shape (columns,) each.

    ``check`` counts the movable checks, ``course`` all their courses. ``visits`` are all
    stays in a bay, their ``candidate`` being the column. ``man_hours`` is ``movable_hours``.
    """

    slots: Slots
    check: NDArray[np.int64]
    course: NDArray[np.int64]
    past: NDArray[np.int64]
    money: NDArray[np.float64]
    in_day: NDArray[np.int64]
    visits: Visits
    man_hours: csr_array


def columns_of(slots: Slots) -> Columns:
    """Return the columns in the order of the checks, then of their candidates."""
    offset = np.cumsum([0, *(len(c.courses.past) for c in slots.candidates)])
    parts = [
        (
            np.full(len(candidates.course), number),
            candidates.course + offset[number],
            candidates.courses.past[candidates.course],
            candidates.courses.money[candidates.course],
            candidates.courses.stays.in_day[candidates.course],
        )
        for number, candidates in enumerate(slots.candidates)
    ]
    check, course, past, money, in_day = (
        np.concatenate(arrays) if parts else np.empty(0, dtype=np.int64)
        for arrays in (zip(*parts, strict=True) if parts else [()] * 5)
    )
    return Columns(
        slots=slots,
        check=check,
        course=course,
        past=past,
        money=money.astype(np.float64),
        in_day=in_day,
        visits=_all_visits(slots),
        man_hours=movable_hours(slots, len(slots.calendar.week_names) * len(slots.kinds)),
    )


def movable_hours(slots: Slots | LaidOut, cells: int) -> csr_array:
    """Return the man-hours of all courses that can be chosen, a row each.

    Shape (courses, cells), cells being weeks x kinds: week by week, kinds of work side by side.
    Where hours are levelled, the limits of levelling come behind the even hours, one after the
    other, and then a 1 at the course's own number among those of all checks, the settled ones
    last: (courses, (1 + limits) x cells + courses of all checks).
    """
    hours = _hours_of(slots.movable, cells, levelled=slots.are_levelled)
    return _numbered(hours, 0, slots) if slots.are_levelled else hours


def _numbered(hours: csr_array, first: int, slots: Slots | LaidOut) -> csr_array:
    """Put behind each row a 1 at the number of its course, counted from ``first`` on."""
    count = sum(len(c.past) for c in (*slots.movable, *slots.settled))
    rows = hours.shape[0]
    own = csr_array(
        (np.ones(rows), (np.arange(rows), first + np.arange(rows))), shape=(rows, count)
    )
    return csr_array(hstack([hours, own]))


def _hours_of(courses: Sequence[Courses], cells: int, *, levelled: bool) -> csr_array:
    """Return the man-hours of courses, with the limits of levelling where they are levelled."""
    blocks = 1 + LIMITS if levelled else 1
    parts = [csr_array((0, blocks * cells))]
    for some in courses:
        even = csr_array(some.man_hours.reshape(-1, cells))
        if levelled:
            limits = some.limits
            if limits is None:
                limits = np.zeros((LIMITS, *some.man_hours.shape))
            flat = limits.reshape(LIMITS, -1, cells)
            even = csr_array(hstack([even, *(csr_array(limit) for limit in flat)]))
        parts.append(even)
    return csr_array(vstack(parts))


def settled_hours(slots: Slots | LaidOut, cells: int) -> NDArray[np.float64]:
    """Return the man-hours of the settled checks, of the columns of ``movable_hours``."""
    hours = _hours_of(slots.settled, cells, levelled=slots.are_levelled)
    if slots.are_levelled:
        hours = _numbered(hours, sum(len(c.past) for c in slots.movable), slots)
    return np.asarray(hours.sum(axis=0), dtype=np.float64).ravel()


def _all_visits(slots: Slots) -> Visits:
    first = np.cumsum([0, *(len(c.course) for c in slots.candidates)])
    parts = [
        replace(visits, candidate=visits.candidate + first[number])
        for number, candidates in enumerate(slots.candidates)
        for visits in candidates.visits()
    ]
    nothing = np.empty(0, dtype=np.int64)
    return Visits(
        *(
            np.concatenate([nothing, *(getattr(part, field.name) for part in parts)])
            for field in fields(Visits)
        )
    )
