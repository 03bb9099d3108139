"""Rules on how many days, nights or early starts come in a row."""

from collections.abc import Iterable

from capacity.working_time.duty import Duties, DutyPeriod, follows, night_runs
from capacity.working_time.limits import TINY, Breach, Limit, breach_if_more
from capacity.working_time.shift_rules import start_hour


def days_in_a_row(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return each day on which ``successive days with a duty > number``, itself included."""
    return _counted(duties.periods, limit)


def early_starts_in_a_row(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return each day on which ``successive starts before before_hour > number``.

    Night shifts are not early starts.
    """
    early = [
        period
        for period in duties.periods
        if not period.night and start_hour(period) < limit.before_hour - TINY
    ]
    return _counted(early, limit)


def nights_in_a_row(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return each night on which ``nights in a row > number``, itself included.

    Only where the longest of them so far is longer than ``over_hours``, as scheduled and with
    its break; a night called in counts with all of its length.
    """
    return tuple(
        breach
        for run in night_runs(duties.periods)
        for count, night in enumerate(run, start=1)
        if max(map(_length, run[:count])) > limit.over_hours + TINY
        for breach in breach_if_more(limit, night.day, count)
    )


def _length(night: DutyPeriod) -> float:
    return night.length_with_overtime_hours if night.called_in else night.length_hours


def _counted(periods: Iterable[DutyPeriod], limit: Limit) -> tuple[Breach, ...]:
    found: list[Breach] = []
    before: DutyPeriod | None = None
    count = 0
    for period in periods:
        if before is None or period.day != before.day:
            count = count + 1 if before is not None and follows(before, period) else 1
            found += breach_if_more(limit, period.day, count)
        before = period
    return tuple(found)
