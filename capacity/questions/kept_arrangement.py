"""The old arrangement wherever it can still stand, the others at their cheapest places."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Status
from capacity.slots.candidates import Slots
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.going_on import kept_beside
from capacity.slots.linear_form import days_form, money_form
from capacity.slots.program import Program

Choice = NDArray[np.int64]
SECONDS = 10.0


def held_first(program: Program, old: Choice, held: NDArray[np.bool_]) -> Choice:
    """Return a choice of the ``held`` checks (checks,) only, as many placed as can be.

    They stay in their ``old`` columns when those stand together; else as near to them as the
    move prices in the program's money say.
    """
    chosen = np.where(held, old, -1)
    if (chosen[held] >= 0).all() and program.holds(chosen):
        return chosen
    kept = program.kept(held[program.check_of])
    solved = branch_and_cut(days_form(kept.program), None, SECONDS)
    if solved.chosen is None:
        return np.full_like(old, -1)
    # Everybody else is left out here, and counts days past all the same.
    allowed = kept.program.days_past(solved.chosen)
    cheapest = branch_and_cut(
        money_form(replace(kept.program, days_allowed=allowed)), solved.chosen, SECONDS
    )
    best = solved.chosen if cheapest.chosen is None else cheapest.chosen
    return kept.to_whole(best)


def kept_arrangement(program: Program, slots: Slots, old: Choice, begin: Choice) -> Choice:
    """Return ``begin`` with all others in their ``old`` columns that stand beside it.

    Who comes in soonest stays first. Booked checks whose old place is taken or gone, and new
    ones, follow in order of ``Latest in``: fewest days past first, then the least money.
    Options without their old place stay out.
    """
    chosen = kept_beside(begin, old, program)
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
    room = program.capacity - program.footprint[chosen[chosen >= 0]].sum(axis=0)
    columns = np.arange(*program.first_column[check : check + 2])
    columns = columns[program.stands(columns, room)]
    if not len(columns):
        return None
    load = program.load(chosen)
    labour: dict[int, float] = {}

    def cost(column: int) -> tuple[int, float]:
        course = int(program.course[column])
        if course not in labour:
            asked = np.asarray(program.man_hours[[course]].sum(axis=0)).ravel()
            labour[course] = program.hours.money(load + asked)
        return int(program.past[column]), float(program.money[column]) + labour[course]

    return min((int(column) for column in columns), key=cost)
