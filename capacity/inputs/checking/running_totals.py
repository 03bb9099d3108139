"""How much is taken on which day, when many take something over ranges of days."""

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import accumulate


@dataclass(frozen=True, slots=True)
class Totals:
    """What is taken together: from each of ``days`` on the one of ``totals``."""

    days: tuple[date, ...]
    totals: tuple[int, ...]

    def on(self, day: date) -> int:
        """Return what is taken on a day."""
        before = bisect_right(self.days, day)
        return self.totals[before - 1] if before else 0


def totals_of(taken: Iterable[tuple[date, date, int]]) -> Totals:
    """Return the totals of numbers taken over ranges ``[first, until)``."""
    changes: dict[date, int] = {}
    for first, until, number in taken:
        changes[first] = changes.get(first, 0) + number
        changes[until] = changes.get(until, 0) - number
    days = tuple(sorted(changes))
    return Totals(days, tuple(accumulate(changes[day] for day in days)))
