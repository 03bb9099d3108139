"""The program that is left when most checks stay where they are."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program, Restricted


def around(program: Program, chosen: Choice, free: NDArray[np.int64]) -> Restricted:
    """Return the program over the ``free`` checks only; its costs are those of the whole.

    The other checks keep their choice: what they take of rows and hours is taken off, and
    columns that cannot stand beside them are gone.
    """
    held = np.setdiff1d(np.arange(len(program.checks)), free)
    kept = chosen[held]
    placed = kept[kept >= 0]
    capacity = program.capacity - program.footprint[placed].sum(axis=0)
    columns = np.flatnonzero(np.isin(program.check_of, free))
    columns = columns[program.fits(columns, capacity)]
    used = np.flatnonzero(program.footprint[columns].sum(axis=0))
    count = np.bincount(program.check_of[columns], minlength=len(program.checks))[free]
    past = program.past[placed].sum() + program.unplaced_past[held[kept < 0]].sum()
    smaller = replace(
        program,
        checks=tuple(program.checks[check] for check in free),
        first_column=np.concatenate(([0], np.cumsum(count))),
        unplaced_past=program.unplaced_past[free],
        course=program.course[columns],
        past=program.past[columns],
        money=program.money[columns],
        place=program.place[columns],
        in_day=program.in_day[columns],
        footprint=program.footprint[columns],
        capacity=capacity,
        asked=program.asked + program.man_hours[program.course[placed]].sum(axis=0),
        settled_past=program.settled_past + int(past),
        settled_money=program.dates_money(placed),
    )
    return Restricted(smaller.with_rows(used), columns)
