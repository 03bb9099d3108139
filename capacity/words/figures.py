"""Days, hours, amounts and lists as a person reads them: each said in one place."""

from collections.abc import Collection, Sequence
from datetime import date

from capacity.facts import Base

LEAST_HOURS = 0.05
"""Fewer man-hours than these are a rounding remainder and not shown."""

LEAST_MONEY = 0.005
"""Half a cent: less than this is nothing."""


def day(value: date) -> str:
    """Return a date that cannot be misread: ``Mon 4 Jan 2027``."""
    return f"{value:%a} {value.day} {value:%b %Y}"


def week_dates(week: str) -> tuple[date, date]:
    """Return Monday and Sunday of an ISO week such as ``2027-W01``."""
    year, number = week.split("-W")
    return (
        date.fromisocalendar(int(year), int(number), 1),
        date.fromisocalendar(int(year), int(number), 7),
    )


def counted(number: int, noun: str) -> str:
    """Return ``1 week``, ``5 weeks`` or ``2 enquiries``."""
    if number == 1:
        return f"{number:,} {noun}"
    return f"{number:,} {noun[:-1]}ies" if noun.endswith("iry") else f"{number:,} {noun}s"


def days(number: int) -> str:
    """Return ``1 day`` or ``5 days``."""
    return counted(number, "day")


def money(amount: float, base: Base) -> str:
    """Return an amount in whole units of the base's currency: ``118,600 EUR``."""
    return f"{_whole(amount)} {base.currency}"


def hours(amount: float) -> str:
    """Return man-hours with a decimal only where it tells something: ``60 h``, ``0.4 h``."""
    return f"{_whole(amount)} h" if abs(amount) >= 9.95 else f"{amount:.1f} h"


def percent(share: float) -> str:
    """Return a share in per cent: ``3.0 %``; a tiny one is ``less than 0.1 %``."""
    return "less than 0.1 %" if 0 < share < 0.001 else f"{share * 100:,.1f} %"


def listed(parts: Sequence[str], last: str = "and") -> str:
    """Return ``a``, ``a and b`` or ``a, b and c``."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def quoted(names: Collection[str], last: str = "and") -> str:
    """Return names from a workbook in a list: ``'A'``, ``'A' and 'B'``."""
    return listed([f"'{name}'" for name in names], last)


def _whole(amount: float) -> str:
    # Adding 0.0 turns -0.0 into 0.0.
    return f"{round(amount) + 0.0:,.0f}"
