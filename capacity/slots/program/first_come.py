"""The plan made by feel: first come, first served, by ``Latest in``."""

import numpy as np

from capacity.facts import Status
from capacity.slots.candidates import Slots
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program


def first_come(program: Program, slots: Slots, begin: Choice | None = None) -> Choice:
    """Return a choice that keeps all rows: a column a check, -1 for none.

    Checks that are placed to ``begin`` with stay there. Booked checks in order of
    ``Latest in`` each take the first free day from ``Wanted in`` (else ``Earliest in``) on,
    or the last free one before it; man-hours play no part. Options stay out.
    """
    nothing = np.full(len(program.checks), -1, dtype=np.int64)
    chosen = nothing if begin is None else begin.copy()
    free = program.slack(chosen)
    waiting = np.flatnonzero(chosen < 0)
    order = sorted(
        (n for n in waiting if slots.candidates[n].courses.check.status is Status.BOOKED),
        key=lambda number: slots.candidates[number].courses.check.latest_in,
    )
    for number in order:
        candidates = slots.candidates[number]
        check = candidates.courses.check
        wanted = slots.calendar.number(check.wanted_in or check.earliest_in)
        wait = candidates.courses.stays.in_day[candidates.course] - wanted
        columns = program.columns_of(int(number))
        stands = program.fits(columns, free)
        if stands.any():
            # Days before the wanted one come after all days from it on, the nearest first.
            late = np.where(wait >= 0, wait, 10_000 - wait)
            chosen[number] = columns[np.argmin(np.where(stands, late, np.inf))]
            free -= program.footprint[[chosen[number]]].sum(axis=0)
    return chosen
