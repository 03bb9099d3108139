"""The candidates of all movable checks side by side: the columns of the program."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.slots.candidates import Slots


@dataclass(frozen=True)
class Columns:
    """One entry a candidate, check by check, shape (columns,) each.

    ``check`` counts the movable checks, ``course`` all their courses, ``group`` the bay
    groups. ``man_hours`` has shape (courses, weeks x skills): week by week, skills side by
    side.
    """

    slots: Slots
    check: NDArray[np.int64]
    course: NDArray[np.int64]
    group: NDArray[np.int64]
    in_day: NDArray[np.int64]
    out_day: NDArray[np.int64]
    past: NDArray[np.int64]
    money: NDArray[np.float64]
    man_hours: csr_array


def columns_of(slots: Slots) -> Columns:
    """Return the columns in the order of the checks, then of their candidates."""
    offset = np.cumsum([0, *(len(c.courses.past) for c in slots.candidates)])
    parts = [
        (
            np.full(len(candidates.course), number),
            candidates.course + offset[number],
            candidates.group,
            candidates.courses.stays.in_day[candidates.course],
            candidates.courses.stays.out_day[candidates.course],
            candidates.courses.past[candidates.course],
            candidates.courses.money[candidates.course],
        )
        for number, candidates in enumerate(slots.candidates)
    ]
    check, course, group, in_day, out_day, past, money = (
        np.concatenate(arrays) if parts else np.empty(0, dtype=np.int64)
        for arrays in (zip(*parts, strict=True) if parts else [()] * 7)
    )
    cells = len(slots.calendar.week_names) * len(slots.skills)
    asked = [c.courses.man_hours.reshape(-1, cells) for c in slots.candidates]
    return Columns(
        slots=slots,
        check=check,
        course=course,
        group=group,
        in_day=in_day,
        out_day=out_day,
        past=past,
        money=money.astype(np.float64),
        man_hours=csr_array(np.concatenate([np.zeros((0, cells)), *asked])),
    )
