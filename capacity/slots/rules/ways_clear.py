"""An aircraft moves only when every bay on its way is clear."""

import numpy as np

from capacity.facts import Base
from capacity.slots.candidates.bay_ties import bays_on_the_way
from capacity.slots.candidates.columns import Columns
from capacity.slots.rules.rows import RowMaker, Rows


def ways_clear(columns: Columns, base: Base) -> Rows:
    """Nobody comes in or leaves on a day strictly inside a stay in a bay on the way.

    For every inner bay i, bay o on its way, and day t::

        sum of x[j] with a visit v to o, in[v] < t < out[v]
            + sum of x[j] with a visit v to i, in[v] = t                          <= 1

    and the same with out[v] = t. The in and out days of the stay on the way are free.
    """
    group_of = {bay: n for n, group in enumerate(columns.slots.groups) for bay in group.bays}
    maker = RowMaker(len(columns.check))
    for inner, way in bays_on_the_way(base).items():
        mine = columns.visits.of_groups([group_of[inner]])
        for passed in sorted(way):
            theirs = columns.visits.of_groups([group_of[passed]])
            for moves, word in ((mine.in_day, "into"), (mine.out_day, "out of")):
                for day in np.unique(moves):
                    stand = theirs.candidate[(theirs.in_day < day) & (day < theirs.out_day)]
                    if len(stand):
                        maker.add(
                            f"{passed} clear for a move {word} {inner} "
                            f"on {columns.slots.calendar.date(day)}",
                            np.concatenate([stand, mine.candidate[moves == day]]),
                            1,
                        )
    return maker.rows()
