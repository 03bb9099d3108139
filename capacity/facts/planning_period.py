"""The planning period, and what it cuts off the windows of checks."""

from datetime import date, timedelta
from math import ceil

from capacity.facts import Base, Check, Status

DAYS_IN_WEEK = 7
# A window that is open for longer, such as one with a mistyped year, is not followed further.
MOST_WEEKS_BEYOND = 26


def last_day_of(check: Check, base: Base, *, late: bool = True) -> date:
    """Return the last day on which a check could come in if the plan had weeks enough.

    With ``late`` that is one past ``Latest in`` for a booked check.
    """
    delay = base.longest_delay_days if late and check.status is Status.BOOKED else 0
    return check.fixed_in or check.latest_in + timedelta(days=delay)


def weeks_until(last: date, base: Base) -> int:
    """Return how many weeks more must be planned for a check to come in on a day, at least 0."""
    return max(0, ceil((last - base.last_in_day).days / DAYS_IN_WEEK))


def weeks_cut_off(base: Base, *, late: bool = True) -> int:
    """Return by how many weeks windows reach beyond the planning period; 26 at the most."""
    last = [last_day_of(check, base, late=late) for check in base.checks]
    return min(MOST_WEEKS_BEYOND, max((weeks_until(day, base) for day in last), default=0))


def is_cut(check: Check, base: Base) -> bool:
    """Return whether the planning period ends within the window of a check."""
    return check.fixed_in is None and check.latest_in > base.last_in_day
