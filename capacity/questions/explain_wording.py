"""Words and cells that the answers to "why" questions share."""

from collections.abc import Callable, Sequence
from datetime import date

from capacity.facts import Base

Where = Callable[[str, str, str], str]
"""Gives the cell of the input for a sheet, the name of a row and a column.

A row of a sheet whose rows have no name of their own is asked for by its number among the
rows, such as ``#1`` for the first.
"""


def sheet_only(sheet: str, name: str, column: str) -> str:
    """Return the sheet: what can be told where the cells are not known."""
    return sheet


def cells(where: Where, sheet: str, name: str, *columns: str) -> str:
    """Return the cells of one row in brackets: ``(Checks!H5)``, ``(Checks!H5:I5)``."""
    found = list(dict.fromkeys(where(sheet, name, column) for column in columns))
    if len(found) == 1:
        return f"({found[0]})"
    return f"({found[0]}:{found[-1].rpartition('!')[2]})"


def day(value: date) -> str:
    """Return a date that cannot be misread: ``Mon 4 Jan 2027``."""
    return f"{value:%a} {value.day} {value:%b %Y}"


def counted(number: int, noun: str) -> str:
    """Return ``1 week`` or ``5 weeks``."""
    return f"{number:,} {noun}" if number == 1 else f"{number:,} {noun}s"


def days(number: int) -> str:
    """Return ``1 day`` or ``5 days``."""
    return counted(number, "day")


def money(amount: float, base: Base) -> str:
    """Return an amount in whole units of the base's currency: ``118,600 EUR``."""
    return f"{round(amount) + 0:,} {base.currency}"


def hours(amount: float) -> str:
    """Return man-hours with a decimal only where it tells something: ``60 h``, ``0.4 h``."""
    return f"{amount:,.0f} h" if abs(amount) >= 9.95 else f"{amount:.1f} h"


def listed(parts: Sequence[str], last: str = "and") -> str:
    """Return ``a``, ``a and b`` or ``a, b and c``."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"
