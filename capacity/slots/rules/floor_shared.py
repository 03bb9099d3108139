"""Bays that share floor are not occupied on the same day."""

import numpy as np

from capacity.facts import Base
from capacity.slots.bay_ties import floor_sharers
from capacity.slots.columns import Columns
from capacity.slots.rules.rows import RowMaker, Rows


def floor_shared(columns: Columns, base: Base) -> Rows:
    """Of two bays on the same floor one at the most is occupied.

    For every pair (a, b) that shares floor and every day t::

        sum of x[j] over candidates j of a or b with in[j] <= t < out[j] <= 1

    A day on which nobody comes in asks no more than the day before and has no row.
    """
    group_of = {bay: n for n, group in enumerate(columns.slots.groups) for bay in group.bays}
    maker = RowMaker(len(columns.check))
    for bay, others in floor_sharers(base).items():
        for other in sorted(name for name in others if bay < name):
            pair = np.isin(columns.group, [group_of[bay], group_of[other]])
            both = np.flatnonzero(pair)
            for day in np.unique(columns.in_day[both]):
                stand = (columns.in_day[both] <= day) & (day < columns.out_day[both])
                name = f"floor of {bay} and {other} on {columns.slots.calendar.date(day)}"
                maker.add(name, both[stand], 1)
    return maker.rows()
