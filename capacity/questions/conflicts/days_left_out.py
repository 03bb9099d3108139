"""Days of a window on which the search has no place for a check, and no rule known says why."""

from datetime import date, timedelta

import numpy as np

from capacity.facts import Base, Check
from capacity.labour.calendar import Calendar
from capacity.slots.candidates import Slots, bays_missing


def days_left_out(check: Check, base: Base, slots: Slots) -> tuple[date, ...]:
    """Return the worked days of its window for which ``slots``, with all places, has none.

    Empty where no bay can hold the check, it is fixed, or it has lapsed. A day off is no day to
    come in on where the next day leads to the same work.
    """
    if check.fixed_in is not None or base.has_lapsed(check) or bays_missing(check, base):
        return ()
    candidates = next(c for c in slots.candidates if c.courses.check.name == check.name)
    known = {*np.unique(candidates.courses.stays.in_day[candidates.course]).tolist()}
    return tuple(day for day in _days(check, base, slots.calendar) if _is_new(day, slots, known))


def _days(check: Check, base: Base, calendar: Calendar) -> list[date]:
    first = max(check.earliest_in, base.first_day)
    last = min(check.latest_in, base.last_in_day)
    days = [first + timedelta(days=number) for number in range((last - first).days + 1)]
    return [day for day in days if calendar.worked[calendar.number(day)]]


def _is_new(day: date, slots: Slots, known: set[int]) -> bool:
    return slots.calendar.number(day) not in known
