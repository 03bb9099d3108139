"""Booked checks without a place put in where they add least."""

import numpy as np

from capacity.facts import Status
from capacity.slots.candidates import Slots
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program


def cheapest_fill(program: Program, slots: Slots, begin: Choice) -> Choice:
    """Return ``begin`` with the checks that it leaves out, one after the other.

    In order of ``Latest in``, each where it adds fewest days past, then the least money, beside
    those that are in. Options stay out.
    """
    chosen = begin.copy()
    waiting = [
        number
        for number, candidates in enumerate(slots.candidates)
        if chosen[number] < 0 and candidates.courses.check.status is not Status.OPTION
    ]
    for check in sorted(waiting, key=lambda n: slots.candidates[n].courses.check.latest_in):
        column = cheapest_beside(program, chosen, check)
        if column is not None:
            chosen[check] = column
    return chosen


def cheapest_beside(program: Program, chosen: Choice, check: int) -> int | None:
    """Return the column of a check that adds least to a choice, days past first."""
    columns = program.free_columns(check, program.slack(chosen))
    if not len(columns):
        return None
    order = np.lexsort((program.added_beside(chosen, columns), program.past[columns]))
    return int(columns[order[0]])
