"""Ways and shared floor where a bay may take any number of aircraft.

The rows of the program for ways and floors also say that there is one aircraft at a time in
the bays they speak of. To see whether a way or a floor alone is in conflict, its rows must
say nothing else, so each of them is about one aircraft in one bay and one in the other.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base
from capacity.slots.candidates.bay_ties import bays_on_the_way
from capacity.slots.candidates.columns import Columns
from capacity.slots.rules.rows import RowMaker, Rows

Members = NDArray[np.int64]


def floor_by_pairs(columns: Columns, bay: str, other: str) -> Rows:
    """Two checks do not stand in two bays that share floor on the same day.

    For every day t and checks c, d: sum of x[j] of c that stands in ``bay`` on t + sum of
    x[k] of d that stands in ``other`` on t <= 1. A day on which nobody comes in has no row.
    """
    number = _numbers(columns)
    maker = RowMaker(len(columns.check))
    here = columns.visits.of_groups([number[bay]])
    there = columns.visits.of_groups([number[other]])
    for day in np.unique(np.concatenate([here.in_day, there.in_day])):
        stand = here.candidate[(here.in_day <= day) & (day < here.out_day)]
        beside = there.candidate[(there.in_day <= day) & (day < there.out_day)]
        for members in _pairs(columns, stand, beside):
            name = f"floor of {bay} and {other} on {columns.slots.calendar.date(day)}"
            maker.add(name, members, 1)
    return maker.rows()


def ways_by_pairs(columns: Columns, base: Base, into: str | None = None) -> Rows:
    """No check moves past another that stands on its way; only ``into`` a bay, if it is told.

    For every inner bay i, bay o on its way, day t and checks c, d: sum of x[j] of c with a
    visit v to o, in[v] < t < out[v], + sum of x[k] of d with a visit w to i, in[w] = t, <= 1;
    and the same with out[w] = t.
    """
    number = _numbers(columns)
    maker = RowMaker(len(columns.check))
    for inner, way in bays_on_the_way(base).items():
        if into not in (None, inner):
            continue
        mine = columns.visits.of_groups([number[inner]])
        for passed in sorted(way):
            theirs = columns.visits.of_groups([number[passed]])
            for moves, word in ((mine.in_day, "into"), (mine.out_day, "out of")):
                for day in np.unique(moves):
                    stand = theirs.candidate[(theirs.in_day < day) & (day < theirs.out_day)]
                    date = columns.slots.calendar.date(day)
                    name = f"{passed} clear for a move {word} {inner} on {date}"
                    for members in _pairs(columns, stand, mine.candidate[moves == day]):
                        maker.add(name, members, 1)
    return maker.rows()


def _numbers(columns: Columns) -> dict[str, int]:
    return {group.bays[0]: n for n, group in enumerate(columns.slots.groups)}


def _pairs(columns: Columns, one: Members, other: Members) -> Iterator[Members]:
    """Yield the columns of every check among the one and every other check among the other."""
    of_one, of_other = columns.check[one], columns.check[other]
    for check in np.unique(of_one):
        for another in np.unique(of_other):
            if check != another:
                yield np.concatenate([one[of_one == check], other[of_other == another]])
