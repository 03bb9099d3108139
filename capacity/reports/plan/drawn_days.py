"""The calendar days that the occupancy is drawn over."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import ClassVar

from capacity.labour.calendar import Calendar, calendar_of
from capacity.reports.kit import formats
from capacity.reports.kit.formats import Look
from capacity.reports.plan.view import View

SATURDAY = 5

DAYS_SHOWN_BEFORE = 28
"""Days before the first day of the plan that are drawn for checks already in."""

DAYS_ON_A_PAGE = 77
"""More days than these are printed over several pages side by side."""

MOST_DAYS = 800
"""Over two years: a slip in a date must not ask for more columns than a sheet has."""


@dataclass(frozen=True, slots=True)
class DrawnDays:
    """Days side by side, with which of them the base does not work."""

    ONE_DAY: ClassVar[timedelta] = timedelta(days=1)

    days: tuple[date, ...]
    off: tuple[bool, ...]

    def columns(self, first: date, until: date) -> range:
        """Return the columns, from 0, of the days in ``[first, until)`` that are drawn."""
        start = max(0, (first - self.days[0]).days)
        return range(start, min(len(self.days), (until - self.days[0]).days))

    @property
    def pages(self) -> tuple[range, ...]:
        """The columns of each page to print: whole weeks, but for the first and the last."""
        begins = [0]
        while len(self.days) - begins[-1] > DAYS_ON_A_PAGE:
            last = begins[-1] + DAYS_ON_A_PAGE
            begins.append(last - self.days[last].weekday())
        return tuple(map(range, begins, [*begins[1:], len(self.days)]))

    def page_of(self, column: int) -> int:
        """Return on which of the pages a column is."""
        return next(number for number, page in enumerate(self.pages) if column in page)

    def look(self, column: int) -> Look:
        """Return the look of a day on which nothing takes the bay."""
        if self.off[column]:
            return formats.DAY_OFF
        return formats.WEEKEND if self.is_weekend(column) else formats.FREE_DAY

    def is_weekend(self, column: int) -> bool:
        """Whether the day is a Saturday or a Sunday, worked or not."""
        return self.days[column].weekday() >= SATURDAY


def drawn_days(view: View) -> DrawnDays:
    """Return the days from the first stay or the first day of the plan to the last out day."""
    base = view.base
    earliest = min([base.first_day, *(p.in_day for p in view.placements)])
    first = max(earliest, base.first_day - timedelta(days=DAYS_SHOWN_BEFORE))
    last = max([base.last_in_day, *(p.out_day for p in view.placements)])
    count = min((last - first).days + 1, MOST_DAYS)
    days = tuple(first + timedelta(days=number) for number in range(count))
    calendar = calendar_of(base)
    return DrawnDays(days, tuple(not _is_worked(calendar, day) for day in days))


def _is_worked(calendar: Calendar, day: date) -> bool:
    # The calendar ends after the longest stay; beyond it nothing is known against a day.
    number = calendar.number(day)
    return not 0 <= number < len(calendar.worked) or bool(calendar.worked[number])
