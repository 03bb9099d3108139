"""When one person is on duty: periods with a start, a scheduled end and the end with overtime."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

ONE_DAY = timedelta(days=1)
HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class DutyPeriod:
    """One duty, in local time without a zone; ``end`` past ``scheduled_end`` is overtime.

    ``break_hours`` are unpaid and lie before the scheduled end. A period whose scheduled end
    is its start is a call on a day off: all of it is overtime. The hour that a clock change
    takes or gives is not counted.
    """

    start: datetime
    scheduled_end: datetime
    end: datetime
    night: bool
    break_hours: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a period that ends before it starts.

        Raises
        ------
        ValueError
            When the ends are out of order or the break is longer than the shift.
        """
        if not self.start <= self.scheduled_end <= self.end:
            raise ValueError(f"the duty from {self.start} has its ends out of order")
        if not 0 <= self.break_hours <= self.length_hours:
            raise ValueError(f"the duty from {self.start} has a break longer than itself")

    @property
    def day(self) -> date:
        """The day on which it starts, to which all of its hours count."""
        return self.start.date()

    @property
    def called_in(self) -> bool:
        """Whether it is a call on a day off."""
        return self.scheduled_end == self.start

    @property
    def length_hours(self) -> float:
        """Hours from the start to the scheduled end, with the break."""
        return hours_between(self.start, self.scheduled_end)

    @property
    def length_with_overtime_hours(self) -> float:
        """Hours from the start to the end, with break and overtime."""
        return hours_between(self.start, self.end)

    @property
    def overtime_hours(self) -> float:
        """Hours past the scheduled end; no break is taken off them."""
        return hours_between(self.scheduled_end, self.end)

    @property
    def scheduled_hours(self) -> float:
        """Attended hours as scheduled, without the unpaid break."""
        return self.length_hours - self.break_hours

    @property
    def hours(self) -> float:
        """Attended hours with overtime, without the unpaid break."""
        return self.scheduled_hours + self.overtime_hours


@dataclass(frozen=True, slots=True)
class Duties:
    """One person's duty periods over the days ``[first_day, until)``, by their start.

    What the person does before and after those days is not known and taken as free.
    """

    first_day: date
    until: date
    periods: tuple[DutyPeriod, ...]

    def __post_init__(self) -> None:
        """Refuse periods that are out of order or start on other days.

        Raises
        ------
        ValueError
            When a period starts before the one above it or outside the days.
        """
        starts = [period.start for period in self.periods]
        if starts != sorted(starts):
            raise ValueError("the duty periods are not in the order of their start")
        if any(not self.first_day <= start.date() < self.until for start in starts):
            raise ValueError("a duty period starts outside the days")

    @property
    def days(self) -> int:
        """Number of days looked at."""
        return (self.until - self.first_day).days

    @property
    def scheduled(self) -> tuple[DutyPeriod, ...]:
        """The periods of the roster, without the calls on days off."""
        return tuple(period for period in self.periods if not period.called_in)


def hours_between(first: datetime, last: datetime) -> float:
    """Return hours from one moment to another; negative when the last is earlier."""
    return (last - first) / HOUR


def midnight(day: date) -> datetime:
    """Return the moment at which a day begins."""
    return datetime.combine(day, time())


def at_hour(day: date, hour: float) -> datetime:
    """Return the moment of a day at an hour such as 7.5."""
    return midnight(day) + timedelta(hours=hour)


def follows(earlier: DutyPeriod, later: DutyPeriod) -> bool:
    """Return whether a period starts on the day after another one's start."""
    return later.day - earlier.day == ONE_DAY


def night_runs(periods: tuple[DutyPeriod, ...]) -> Iterator[tuple[DutyPeriod, ...]]:
    """Return the runs of night shifts that start on successive days, none left out."""
    run: list[DutyPeriod] = []
    for period in periods:
        if run and not (period.night and follows(run[-1], period)):
            yield tuple(run)
            run = []
        if period.night:
            run.append(period)
    if run:
        yield tuple(run)
