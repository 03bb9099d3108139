"""The duty periods of a person who follows the crew's pattern."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from types import MappingProxyType

from capacity.facts import Base, Crew, Shift
from capacity.plans.worked_days import WorkedDays
from capacity.working_time.duty import ONE_DAY, Duties, DutyPeriod

NO_OVERTIME: Mapping[date, float] = MappingProxyType({})
NO_BREAKS: Mapping[str, float] = MappingProxyType({})


def duty_periods(
    crew: Crew,
    base: Base,
    overtime_hours_by_day: Mapping[date, float] = NO_OVERTIME,
    *,
    break_hours: Mapping[str, float] = NO_BREAKS,
    first_day: date | None = None,
    until: date | None = None,
) -> Duties:
    """Return the duties of one person of a crew who is never absent.

    They are those of the days ``[first_day, until)``, the weeks of the plan when not told, on
    which the base works and the crew is there; leave would only add rest. A shift's hours are
    attended hours without the unpaid break, of which a shortened day leaves a share, so a period
    ends at start + hours, or later by ``break_hours``: hours of unpaid break by the name of the
    shift. ``overtime_hours_by_day`` are hours of one person past the shift of that day; on a day
    off they are a call, from the start of the shift that the pattern works most.

    Raises
    ------
    ValueError
        When overtime is below 0, on a day outside the days, or of a crew without any shift.
    """
    first = base.first_day if first_day is None else first_day
    end = base.last_in_day + ONE_DAY if until is None else until
    for day, hours in overtime_hours_by_day.items():
        if hours < 0 or not first <= day < end:
            raise ValueError(f"overtime of {hours:g} h on {day} is below 0 or outside the days")
    periods = _periods(crew, base, overtime_hours_by_day, break_hours, first, end)
    return Duties(first, end, tuple(periods))


def _periods(
    crew: Crew,
    base: Base,
    overtime: Mapping[date, float],
    break_hours: Mapping[str, float],
    first: date,
    until: date,
) -> Iterator[DutyPeriod]:
    cycle = base.pattern(crew.pattern).cycle
    worked_days = WorkedDays(base)
    for number in range((until - first).days):
        day = first + timedelta(days=number)
        name = cycle[(day - crew.starts_cycle_on).days % len(cycle)]
        extra = overtime.get(day, 0.0)
        if name is not None and day in worked_days and crew.is_there_on(day):
            shift = base.shift(name)
            shift = replace(shift, hours=shift.hours * worked_days.hours_share(day))
            yield _duty(day, shift, break_hours.get(name, 0.0), extra)
        elif extra > 0:
            yield _call(day, base.shift(_usual_shift(cycle, crew)), extra)


def _duty(day: date, shift: Shift, break_hours: float, extra: float) -> DutyPeriod:
    start = datetime.combine(day, shift.start)
    scheduled_end = start + timedelta(hours=shift.hours + break_hours)
    end = scheduled_end + timedelta(hours=extra)
    return DutyPeriod(start, scheduled_end, end, shift.night, break_hours)


def _call(day: date, shift: Shift, hours: float) -> DutyPeriod:
    start = datetime.combine(day, shift.start)
    return DutyPeriod(start, start, start + timedelta(hours=hours), shift.night)


def _usual_shift(cycle: tuple[str | None, ...], crew: Crew) -> str:
    worked = [name for name in cycle if name is not None]
    if not worked:
        raise ValueError(f"the crew {crew.name} works no shift that it could be called in for")
    return max(worked, key=worked.count)
