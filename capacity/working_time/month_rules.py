"""The rule on free days in each calendar month."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from math import floor

from capacity.working_time.duty import ONE_DAY, Duties, DutyPeriod, hours_between, midnight
from capacity.working_time.limits import TINY, Breach, Limit

FREE_HOURS = 24.0
"""Hours of one free period."""


@dataclass(frozen=True, slots=True)
class FreeTime:
    """Time off from one moment to another; ``before`` is the duty it comes after, if any."""

    before: DutyPeriod | None
    first: datetime
    last: datetime

    @property
    def periods(self) -> int:
        """How many free periods of 24 h the time holds."""
        return max(0, floor((hours_between(self.first, self.last) + TINY) / FREE_HOURS))


def free_days_in_month(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the months with ``free periods of 24 h < floor(its days / limit.days)``.

    ``number`` free periods for every ``limit.days`` days. Of a month that lies partly outside
    the days looked at, only its days inside count, on both sides. A rest that reaches over the
    turn of a month is cut in two there. The day of a breach is the last of the month looked at.
    """
    found = []
    for first, until in months_of(duties):
        free = sum(time.periods for time in free_times(duties, first, until))
        needed = limit.number * ((until - first).days // limit.days)
        if free < needed:
            found.append(Breach(limit, until - ONE_DAY, free, needed))
    return tuple(found)


def months_of(duties: Duties) -> Iterator[tuple[date, date]]:
    """Return the calendar months as ``[first, until)``, cut to the days looked at."""
    first = duties.first_day
    while first < duties.until:
        until = min(duties.until, (first.replace(day=1) + timedelta(days=32)).replace(day=1))
        yield first, until
        first = until


def free_times(duties: Duties, first: date, until: date) -> Iterator[FreeTime]:
    """Return the times off within the days ``[first, until)``, cut to them."""
    opens, closes = midnight(first), midnight(until)
    befores = (None, *duties.periods)
    afters = (*(period.start for period in duties.periods), None)
    for before, after in zip(befores, afters, strict=True):
        starts = max(opens, before.end) if before else opens
        ends = min(closes, after) if after else closes
        if starts < ends:
            yield FreeTime(before, starts, ends)
