"""An aircraft moves only when every bay on its way is clear."""

import numpy as np

from capacity.facts import Base
from capacity.slots.bay_ties import bays_on_the_way
from capacity.slots.columns import Columns
from capacity.slots.rules.rows import RowMaker, Rows


def ways_clear(columns: Columns, base: Base) -> Rows:
    """Nobody comes in or leaves on a day strictly inside a stay in a bay on the way.

    For every inner bay i, bay o on its way, and day t::

        sum of x[j] over j in o with in[j] < t < out[j]  +  sum over j in i with in[j] = t  <= 1
        sum of x[j] over j in o with in[j] < t < out[j]  +  sum over j in i with out[j] = t <= 1

    The in and out days of the stay on the way are free.
    """
    group_of = {bay: n for n, group in enumerate(columns.slots.groups) for bay in group.bays}
    maker = RowMaker(len(columns.check))
    for inner, way in bays_on_the_way(base).items():
        mine = np.flatnonzero(columns.group == group_of[inner])
        for passed in sorted(way):
            theirs = np.flatnonzero(columns.group == group_of[passed])
            for moves, word in ((columns.in_day, "into"), (columns.out_day, "out of")):
                for day in np.unique(moves[mine]):
                    stand = theirs[(columns.in_day[theirs] < day) & (day < columns.out_day[theirs])]
                    if len(stand):
                        maker.add(
                            f"{passed} clear for a move {word} {inner} "
                            f"on {columns.slots.calendar.date(day)}",
                            np.concatenate([stand, mine[moves[mine] == day]]),
                            1,
                        )
    return maker.rows()
