"""Days, hours, amounts and lists as a person reads them: each said in one place."""

from collections.abc import Sequence
from datetime import date

from capacity.facts import Base


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
