"""Rules on hours added up: in any seven days, and on average over a reference period.

A shift counts wholly on the day on which it starts, as everywhere in this package. Hours are
attended ones: unpaid breaks are left out.
"""

from collections import defaultdict
from collections.abc import Callable, Iterator
from datetime import date, timedelta

from capacity.working_time.duty import ONE_DAY, Duties, DutyPeriod
from capacity.working_time.limits import Breach, Limit, breach_if_more

DAYS_IN_WEEK = 7


def scheduled_hours_in_days(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return each day with ``scheduled hours of it and the days - 1 before > number``.

    Only days with a duty: another window of as many days never holds more than one of these.
    """
    return _in_windows(duties, limit, lambda period: period.scheduled_hours)


def hours_in_days(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return each day with ``hours, with overtime, of it and the days - 1 before > number``."""
    return _in_windows(duties, limit, lambda period: period.hours)


def average_weekly_hours(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the reference periods with ``hours, with overtime, / weeks > number``.

    These are all that lie within the days, or the days as a whole where they are fewer than
    ``days``; the day of a breach is the last of its period. A reference period that is shorter
    than the law allows is the stricter one.
    """
    hours = _by_day(duties, lambda period: period.hours)
    return tuple(
        breach
        for first, until in reference_periods(duties, limit.days)
        for breach in breach_if_more(
            limit, until - ONE_DAY, _sum(hours, first, until) / weeks_of(first, until)
        )
    )


def average_night_hours(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the reference periods with ``scheduled hours / days > number`` of night workers.

    Those are people with a night shift in the period; of every seven days one is the weekly
    rest and not counted, so that ``days = 6 x weeks``. Overtime is not part of normal hours.
    """
    hours = _by_day(duties, lambda period: period.scheduled_hours)
    nights = {period.day for period in duties.periods if period.night}
    return tuple(
        breach
        for first, until in reference_periods(duties, limit.days)
        if any(first <= night < until for night in nights)
        for breach in breach_if_more(
            limit,
            until - ONE_DAY,
            _sum(hours, first, until) / (DAYS_IN_WEEK - 1) / weeks_of(first, until),
        )
    )


def reference_periods(duties: Duties, days: int) -> Iterator[tuple[date, date]]:
    """Return every ``[first, until)`` of so many days; the days as a whole when too few."""
    if duties.days <= days:
        yield duties.first_day, duties.until
        return
    for shift in range(duties.days - days + 1):
        first = duties.first_day + timedelta(days=shift)
        yield first, first + timedelta(days=days)


def weeks_of(first: date, until: date) -> float:
    """Return the length of a reference period in weeks, never less than one."""
    return max(1.0, (until - first).days / DAYS_IN_WEEK)


def _in_windows(
    duties: Duties, limit: Limit, measure: Callable[[DutyPeriod], float]
) -> tuple[Breach, ...]:
    hours = _by_day(duties, measure)
    return tuple(
        breach
        for day in hours
        for breach in breach_if_more(
            limit, day, _sum(hours, day - timedelta(days=limit.days - 1), day + ONE_DAY)
        )
    )


def _by_day(duties: Duties, measure: Callable[[DutyPeriod], float]) -> dict[date, float]:
    hours: dict[date, float] = defaultdict(float)
    for period in duties.periods:
        hours[period.day] += measure(period)
    return dict(hours)


def _sum(hours: dict[date, float], first: date, until: date) -> float:
    return sum(amount for day, amount in hours.items() if first <= day < until)
