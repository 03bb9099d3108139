"""The days that a board draws, and what of them a plan takes up."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from capacity.plans.plan import Placement
from capacity.reports.plan.view import View

NEAR_DAYS = 14
"""A day agreed further ahead than this is not drawn: it would run under the next check."""


@dataclass(frozen=True, slots=True)
class Span:
    """The days of the board: ``first`` until, not including, ``until``."""

    first: date
    until: date

    def number(self, day: date) -> int:
        """Return a date as a day of the board."""
        return (day - self.first).days

    @property
    def day_count(self) -> int:
        """How many days are drawn."""
        return (self.until - self.first).days

    def cut(self, first: date, until: date) -> tuple[int, int]:
        """Return the part of ``[first, until)`` that is drawn, as days of the board."""
        begin, end = (min(max(one, self.first), self.until) for one in (first, until))
        return self.number(begin), self.number(end)


def span_of(view: View) -> Span:
    """Return the days from the first stay or day of the plan to the last, in whole weeks."""
    base = view.base
    first = min([base.first_day, *(p.in_day for p in view.placements)])
    last = max([base.last_in_day, *(d for p in view.placements for d in _ends(view, p))])
    monday = first - timedelta(days=first.weekday())
    return Span(monday, last + timedelta(days=7 - last.weekday()))


def _ends(view: View, placement: Placement) -> Iterator[date]:
    """Give the out day of a stay and, where it is drawn, the day of Agreed out."""
    yield placement.out_day
    agreed = view.agreed_out(placement)
    if agreed is not None and (agreed - placement.out_day).days <= NEAR_DAYS:
        yield agreed
