"""Calendar months."""

from calendar import monthrange
from collections.abc import Iterator
from datetime import date, timedelta


def month_name(day: date) -> str:
    """Return the month of a day as ``2027-01``."""
    return f"{day:%Y-%m}"


def next_month(day: date) -> date:
    """Return the first day of the month after the one in which the day falls."""
    return months_later(day.replace(day=1), 1)


def months_later(day: date, months: int) -> date:
    """Return the same day of a later month, or its last day where it has no such day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def parts_by_month(first: date, until: date) -> Iterator[tuple[date, date]]:
    """Cut ``[first, until)`` at the turns of the months."""
    while first < until:
        end = min(next_month(first), until)
        yield first, end
        first = end


def days_of(first: date, until: date) -> Iterator[date]:
    """Go through the days of ``[first, until)``."""
    for number in range((until - first).days):
        yield first + timedelta(days=number)
