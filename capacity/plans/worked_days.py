"""Which calendar days the base works, told from its settings alone."""

from collections.abc import Iterable
from datetime import date, timedelta

import holidays

from capacity.facts import Base, CalendarDays

ONE_DAY = timedelta(days=1)


class WorkedDays:
    """The days that the base works; ``day in worked_days``.

    A working weekday that is no public holiday, unless the base's own calendar says otherwise.
    """

    def __init__(self, base: Base) -> None:
        """Look up the holidays of the base's country, year by year as days are asked."""
        self._weekdays = base.working_weekdays
        self._holidays = _public_holidays(base.holidays)
        self._leaves_on_days_off = base.leaves_on_days_off
        self._own = _own_days(base.calendar_days)
        self._known: dict[date, bool] = {}
        self._stretches: dict[tuple[date, int], tuple[date, ...]] = {}

    def __contains__(self, day: date) -> bool:
        """Return whether the base works on that day."""
        if day not in self._known:
            working = day.weekday() in self._weekdays
            usually = working and not (self._holidays is not None and day in self._holidays)
            own = self._own[day].worked if day in self._own else None
            self._known[day] = usually if own is None else own
        return self._known[day]

    def hours_share(self, day: date) -> float:
        """Return the share of a shift's hours that people attend on a day: 1 but on short days."""
        return self._own[day].hours_share if day in self._own else 1.0

    def next(self, day: date) -> date:
        """Return the first day from ``day`` on that the base works."""
        return self.stretch(day, 1)[0]

    def next_move(self, day: date) -> date:
        """Return the first day from ``day`` on on which aircraft move between bays or leave."""
        return day if self._leaves_on_days_off else self.next(day)

    def fewest_waited(self, ready: date, first: date) -> int:
        """Return the fewest days from ``ready`` on after which ``first`` is the next worked day."""
        day = first
        while day > ready and day - ONE_DAY not in self:
            day -= ONE_DAY
        return max(0, (day - ready).days)

    def stretch(self, first: date, days: int) -> tuple[date, ...]:
        """Return the next ``days`` days that the base works, from ``first`` on."""
        if (first, days) not in self._stretches:
            self._stretches[first, days] = self._walk(first, days)
        return self._stretches[first, days]

    def count(self, first: date, until: date) -> int:
        """Return how many days of ``[first, until)`` the base works; 0 when it is empty."""
        days = range((until - first).days)
        return sum(first + timedelta(days=day) in self for day in days)

    def _walk(self, first: date, days: int) -> tuple[date, ...]:
        worked: list[date] = []
        day = first
        while len(worked) < days:
            if day in self:
                worked.append(day)
            day += ONE_DAY
        return tuple(worked)


def day_after(worked: tuple[date, ...], first: date) -> date:
    """Return the first day that a stretch leaves free; ``first`` when it is empty."""
    return worked[-1] + ONE_DAY if worked else first


def _own_days(rows: Iterable[CalendarDays]) -> dict[date, CalendarDays]:
    """Return what the base's own calendar says of each day that it names."""
    return {
        row.first + number * ONE_DAY: row
        for row in rows
        for number in range((row.last - row.first).days + 1)
    }


def _public_holidays(place: str | None) -> holidays.HolidayBase | None:
    if place is None:
        return None
    country, _, subdivision = place.partition("-")
    return holidays.country_holidays(country, subdiv=subdivision or None)
