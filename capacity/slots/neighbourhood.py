"""The program that is left when most checks stay where they are."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from capacity.slots.program import Program

ROOM = 1e-9


def around(
    program: Program, chosen: NDArray[np.int64], free: NDArray[np.int64]
) -> tuple[Program, NDArray[np.int64]]:
    """Return the program over the ``free`` checks only, and its columns' numbers.

    The other checks keep their choice: what they take of rows and hours is taken off, and
    columns that cannot stand beside them are gone.
    """
    held = np.setdiff1d(np.arange(len(program.checks)), free)
    kept = chosen[held]
    placed = kept[kept >= 0]
    capacity = program.capacity - program.footprint[placed].sum(axis=0)
    asked = program.asked + program.man_hours[program.course[placed]].sum(axis=0)
    columns = np.flatnonzero(np.isin(program.check_of, free))
    foot = program.footprint[columns]
    too_much = (foot.data > capacity[foot.indices] + ROOM).astype(np.int64)
    blocked = np.add.reduceat(too_much, foot.indptr[:-1]) if len(columns) else np.empty(0)
    columns = columns[blocked == 0]
    used = np.flatnonzero(program.footprint[columns].sum(axis=0))
    days = program.days_allowed
    if days is not None:
        days -= int(program.past[placed].sum() + program.unplaced_past[held[kept < 0]].sum())
    count = np.bincount(program.check_of[columns], minlength=len(program.checks))[free]
    smaller = replace(
        program,
        checks=tuple(program.checks[check] for check in free),
        first_column=np.concatenate(([0], np.cumsum(count))),
        must_place=program.must_place[free],
        unplaced_past=program.unplaced_past[free],
        course=program.course[columns],
        past=program.past[columns],
        money=program.money[columns],
        footprint=program.footprint[columns][:, used],
        capacity=capacity[used],
        row_names=tuple(program.row_names[row] for row in used),
        asked=asked,
        days_allowed=days,
    )
    return smaller, columns
