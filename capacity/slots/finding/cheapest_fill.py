"""Booked checks without a place put in where they add least."""

import numpy as np

from capacity.facts import Status
from capacity.slots.candidates.enumerated import Slots
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
