"""The base's own days: closed, worked though they would be off, or shortened."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class CalendarDays:
    """Days from ``first`` to ``last``, both included, that differ from the usual ones.

    ``worked`` says whether the base works on them; None leaves that to weekdays and holidays.
    ``hours_share`` is the share of their shift's hours that crews attend on those that are worked.
    """

    first: date
    last: date
    worked: bool | None = None
    hours_share: float = 1.0
    reason: str = ""
