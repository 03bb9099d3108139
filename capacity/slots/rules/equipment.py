"""Equipment pools: jack sets, tail docks, cranes."""

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.facts import Base
from capacity.slots.candidates.columns import Columns
from capacity.slots.candidates.enumerated import Courses
from capacity.slots.rules.rows import RowMaker, Rows


def equipment(columns: Columns, base: Base) -> Rows:
    """On every day the stages under way hold no more pieces than there are in use.

    For every pool e and day t::

        sum of uses[j, e, t] * x[j] <= number[e] - outages[e, t] - held by fixed checks[e, t]

    uses[j, e, t] counts the stages of candidate j that hold e and have start <= t < end,
    days off included: a set of jacks stays under the aircraft over the week-end.
    """
    maker = RowMaker(len(columns.check))
    slots, calendar = columns.slots, columns.slots.calendar
    days = len(calendar.worked)
    for pool in base.equipment:
        held = [_held(c.courses, pool.name, days) for c in slots.candidates]
        if not any(part.any() for part in held):
            continue
        uses = csr_array(np.concatenate(held))[columns.course].tocsc()
        room = np.full(days, float(pool.number))
        for courses in slots.settled:
            room -= _held(courses, pool.name, days)[0]
        for outage in base.equipment_outages:
            if outage.equipment == pool.name:
                first = max(0, calendar.number(outage.first))
                room[first : max(0, calendar.number(outage.last) + 1)] -= outage.number
        for day in range(days):
            entries = slice(uses.indptr[day], uses.indptr[day + 1])
            name = f"{pool.name} on {calendar.date(day)}"
            maker.add(
                name,
                uses.indices[entries].astype(np.int64),
                max(0.0, room[day]),
                uses.data[entries],
            )
    return maker.rows()


def _held(courses: Courses, pool: str, days: int) -> NDArray[np.float64]:
    """Return how many pieces each course holds on each day, shape (courses, days)."""
    held = np.zeros((len(courses.past), days))
    day = np.arange(days)
    for number, stage in enumerate(courses.work):
        if pool in stage.equipment:
            start, end = courses.stays.starts[:, number, None], courses.stays.ends[:, number, None]
            held += (start <= day) & (day < end)
    return held
