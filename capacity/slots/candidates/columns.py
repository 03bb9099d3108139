"""The candidates of all movable checks side by side: the columns of the program."""

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array, vstack

from capacity.slots.candidates.enumerated import Slots, Visits


@dataclass(frozen=True)
class Columns:
    """One entry a candidate, check by check, shape (columns,) each.

    ``check`` counts the movable checks, ``course`` all their courses. ``visits`` are all
    stays in a bay, their ``candidate`` being the column. ``man_hours`` has shape (courses,
    weeks x kinds): week by week, kinds of work side by side.
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
    cells = len(slots.calendar.week_names) * len(slots.kinds)
    asked = [csr_array(c.courses.man_hours.reshape(-1, cells)) for c in slots.candidates]
    return Columns(
        slots=slots,
        check=check,
        course=course,
        past=past,
        money=money.astype(np.float64),
        in_day=in_day,
        visits=_all_visits(slots),
        man_hours=csr_array(vstack([csr_array((0, cells)), *asked])),
    )


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
