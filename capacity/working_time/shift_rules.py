"""Rules on a single shift: its length, when it starts and when it ends."""

from datetime import datetime

from capacity.working_time.duty import (
    ONE_DAY,
    Duties,
    DutyPeriod,
    at_hour,
    hours_between,
    midnight,
)
from capacity.working_time.limits import Breach, Limit, breach_if_less, breach_if_more


def scheduled_shift_length(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the shifts with ``scheduled_end - start > number`` hours, breaks included."""
    return tuple(
        breach
        for period in duties.periods
        for breach in breach_if_more(limit, period.day, period.length_hours)
    )


def shift_length_with_overtime(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the shifts with ``end - start > number`` hours, breaks and overtime included."""
    return tuple(
        breach
        for period in duties.periods
        for breach in breach_if_more(limit, period.day, period.length_with_overtime_hours)
    )


def night_finish(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the night shifts with ``end > number`` o'clock of the first such hour after start.

    The value is the hour of that day; one past 24 lies on the next.
    """
    return tuple(
        breach
        for period in duties.periods
        if period.night
        for breach in breach_if_more(
            limit,
            period.day,
            limit.number + hours_between(latest_finish(period, limit.number), period.end),
        )
    )


def latest_finish(night: DutyPeriod, hour: float) -> datetime:
    """Return the first moment after the start of a night shift at which it is that hour."""
    finish = at_hour(night.day, hour)
    return finish if finish > night.start else finish + ONE_DAY


def day_start(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the shifts, nights apart, with ``start < number`` o'clock."""
    return tuple(
        breach
        for period in duties.periods
        if not period.night
        for breach in breach_if_less(limit, period.day, start_hour(period))
    )


def start_hour(period: DutyPeriod) -> float:
    """Return the hour of the day at which a period starts, such as 6.5."""
    return hours_between(midnight(period.day), period.start)
