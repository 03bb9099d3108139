"""Bays that share floor are not occupied on the same day."""

import numpy as np

from capacity.facts import Base
from capacity.slots.candidates.bay_ties import floor_sharers
from capacity.slots.candidates.columns import Columns
from capacity.slots.rules.rows import RowMaker, Rows


def floor_shared(columns: Columns, base: Base) -> Rows:
    """Of two bays on the same floor one at the most is occupied.

    For every pair (a, b) that shares floor and every day t::

        sum of x[j] over candidates j with a visit v to a or b that has in[v] <= t < out[v]  <= 1

    A day on which nobody comes in asks no more than the day before and has no row.
    """
    group_of = {bay: n for n, group in enumerate(columns.slots.groups) for bay in group.bays}
    maker = RowMaker(len(columns.check))
    for bay, others in floor_sharers(base).items():
        for other in sorted(name for name in others if bay < name):
            both = columns.visits.of_groups([group_of[bay], group_of[other]])
            for day in np.unique(both.in_day):
                stand = (both.in_day <= day) & (day < both.out_day)
                name = f"floor of {bay} and {other} on {columns.slots.calendar.date(day)}"
                maker.add(name, both.candidate[stand], 1)
    return maker.rows()
