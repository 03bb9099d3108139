"""Sets of weeks in which stages must do more than the limits added up by week ask for.

For a kind of work and any set S of weeks, a stage does at least ``T - most of the other weeks`` of
its hours T in S, so all chosen stages together ask at least the sum of that: it holds for every
plan. The program has such rows for single weeks and neighbours only; others are taken in when a
relaxation breaks them. Which ones is told by the prices of hours when each skill of each stage is
levelled by itself: the weeks in which an hour is dearer than some price (the dual of a linear
program over bases of a polymatroid, Edmonds 1970 - from memory). With all of those of a choice,
the program prices it as exactly as ``spread_load.py``.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from capacity.slots.candidates import LIMITS
from capacity.slots.program.choice import Choice
from capacity.slots.program.day_sets import day_sets_of
from capacity.slots.program.day_strands import DaySet
from capacity.slots.program.program import Program
from capacity.slots.program.spread_load import spread_out
from capacity.slots.program.strands import Strand, WeekSet

Floats = NDArray[np.float64]
# Hours that a relaxation lacks in a set of weeks before a row is worth it, and prices that differ.
MUCH, OTHER_PRICE = 1e-3, 0.01
TINY = 1e-6


def sets_broken_by(program: Program, chosen: Choice) -> tuple[WeekSet | DaySet, ...]:
    """Return the sets of weeks that the program's limits do not hold a choice to.

    Where days are priced, those of days that say what it costs.
    """
    if program.hours.days is not None:
        return day_sets_of(program.hours.on_days(program.load(chosen)), program.hours)
    if not program.hours.are_levelled:
        return ()
    load = program.load(chosen)
    put_off = program.hours.levelled(load).put_off
    asked = load[: program.hours.cells].reshape(put_off.shape) - put_off
    asked[1:] += put_off[:-1]
    weights = np.zeros(program.size)
    weights[chosen[chosen >= 0]] = 1.0
    return sets_broken_at(program, weights, asked.ravel())


def sets_broken_at(program: Program, weights: Floats, asked: Floats) -> tuple[WeekSet, ...]:
    """Return the sets of weeks in which fractions of columns must do more than is ``asked``.

    ``weights`` (columns,) are those fractions, ``asked`` (cells,) what a relaxation asks of the
    cells with them.
    """
    hours = program.hours
    cells, kinds = hours.cells, hours.supply.kinds
    assert hours.strands is not None
    shares = np.bincount(program.course, weights, minlength=program.man_hours.shape[0])
    load = program.asked[:cells] + shares @ program.man_hours[:, :cells]
    settled = np.flatnonzero(program.asked[(1 + LIMITS) * cells :] > 0.5)
    strands = hours.strands.of(settled)
    for course in np.flatnonzero(shares > TINY):
        share = float(shares[course])
        strands += [_at(strand, share) for strand in hours.strands.of(np.array([course]))]
    price = spread_out(strands, load, hours.supply).price.reshape(-1, kinds)
    found = []
    for kind in np.flatnonzero(np.ptp(price, axis=0) > OTHER_PRICE):
        mine = [strand for strand in strands if len(strand.cell) and strand.cell[0] % kinds == kind]
        levels = np.unique(np.round(price[:, kind], 2))
        for level in levels[:-1]:
            is_in = price[:, kind] > level + OTHER_PRICE / 2
            weeks = np.flatnonzero(is_in)
            less = sum(_can_leave(strand, is_in, kinds) for strand in mine)
            lacks = load[weeks * kinds + kind].sum() - less - asked[weeks * kinds + kind].sum()
            if lacks > MUCH:
                found.append(WeekSet(int(kind), tuple(weeks.tolist())))
    return tuple(found)


def _at(strand: Strand, share: float) -> Strand:
    return replace(strand, even=strand.even * share, most=strand.most * share)


def _can_leave(strand: Strand, is_in: NDArray[np.bool_], kinds: int) -> float:
    """Return the hours by which a strand can ask less of a set of weeks than evenly."""
    inside = is_in[strand.cell // kinds]
    must = max(0.0, float(strand.even.sum() - strand.most[~inside].sum()))
    return float(strand.even[inside].sum()) - must
