"""A stage that is done alone, and the stages that wait for it or for which it waits."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Protocol, TypeVar

from capacity.plans.worked_days import WorkedDays, day_after


class Span(Protocol):
    """Days from ``first`` up to, not including, ``until``."""

    @property
    def first(self) -> date:
        """The day it begins."""

    @property
    def until(self) -> date:
        """The first day that it leaves free."""


AnySpan = TypeVar("AnySpan", bound=Span)


def in_the_way(
    first: date, days: int, apart: Iterable[AnySpan], worked_days: WorkedDays
) -> list[AnySpan]:
    """Return the spans that ``days`` worked days from ``first`` on would overlap."""
    until = day_after(worked_days.stretch(first, days), first)
    return [span for span in apart if first < span.until and span.first < until]


def clear_start(ready: date, days: int, apart: Sequence[Span], worked_days: WorkedDays) -> date:
    """Return the first worked day from ``ready`` on from which the work overlaps none of ``apart``.

    A start between ``ready`` and the end of a span in the way overlaps that span too, so
    none is passed over.
    """
    first = worked_days.next(ready)
    while spans := in_the_way(first, days, apart, worked_days):
        first = worked_days.next(max(span.until for span in spans))
    return first
