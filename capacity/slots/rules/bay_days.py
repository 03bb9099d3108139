"""One aircraft at a time in a bay, with the changeover behind it."""

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base
from capacity.slots.candidates.bay_groups import BayGroup
from capacity.slots.candidates.columns import Columns
from capacity.slots.rules.rows import RowMaker, Rows


def bay_days(columns: Columns, base: Base) -> Rows:
    """On each day a group holds no more stays than it has bays that can be used.

    For every group g and day t on which g takes aircraft::

        sum of x[j] over candidates j with a visit v to g that has
            in[v] <= t < out[v] + changeover[g]                    <= usable[g, t]

    An aircraft that comes back counts once: no changeover lies between its own visits.
    Only days whose set of candidates is not contained in a neighbour's are kept.
    """
    maker = RowMaker(len(columns.check))
    for number, group in enumerate(columns.slots.groups):
        mine = columns.visits.of_groups([number])
        if not len(mine.candidate):
            continue
        first = mine.in_day
        until = mine.out_day + group.changeover_days
        for day in _telling_days(first, until, group):
            name = f"bays {group.title} on {columns.slots.calendar.date(day)}"
            stand = np.unique(mine.candidate[(first <= day) & (day < until)])
            maker.add(name, stand, int(group.usable[day]))
    return maker.rows()


def _telling_days(first: NDArray[np.int64], until: NDArray[np.int64], group: BayGroup) -> list[int]:
    """Return the days that bind: the last before a leaving or a bay more, with arrivals since.

    The stays over any other day all stand over a neighbouring day with no more usable bays.
    """
    days = range(int(first.min()), min(int(until.max()), len(group.usable)))
    arrivals = np.bincount(first, minlength=len(group.usable) + 1)
    leavings = np.bincount(until, minlength=len(group.usable) + 1)
    closed = group.shut | group.taken
    telling, arrived = [], False
    for day in days:
        arrived |= bool(arrivals[day]) or (day > 0 and group.usable[day] < group.usable[day - 1])
        last = day + 1 >= len(group.usable)
        ends = last or leavings[day + 1] or closed[day + 1]
        ends = ends or group.usable[day + 1] > group.usable[day]
        if arrived and ends and not closed[day]:
            telling.append(day)
            arrived = False
    return telling
