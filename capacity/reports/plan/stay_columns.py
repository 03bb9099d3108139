"""Bay and days of a check, told alike wherever two plans are set side by side."""

from collections.abc import Callable, Sequence
from datetime import date
from typing import TypeVar

from capacity.plans.plan import Placement
from capacity.reports.kit.formats import DATE, WRAPPED
from capacity.reports.kit.table import Column
from capacity.words import day

Row = TypeVar("Row")
Stay = Sequence[Placement]


def stay_columns(which: str, stay: Callable[[Row], Stay]) -> tuple[Column[Row], ...]:
    """Return the columns of bay, in day and out day, blank where a row has no stay.

    ``which`` says of which plan they are: ``before`` gives ``Bay before``.
    """

    def bay(row: Row) -> str | None:
        return bays(stay(row)) or None

    def came(row: Row) -> date | None:
        return stay(row)[0].in_day if stay(row) else None

    def left(row: Row) -> date | None:
        return stay(row)[-1].out_day if stay(row) else None

    return (
        Column(f"Bay {which}", bay, WRAPPED, width=16),
        Column(f"In {which}", came, DATE, width=17),
        Column(f"Out {which}", left, DATE, width=17),
    )


def bays(stay: Stay) -> str:
    """Return the bays gone through in turn: ``N1, then P2``; blank for no stay."""
    return ", then ".join(placement.bay for placement in stay)


def stay_in_words(stay: Stay) -> str:
    """Return bays and dates of a stay in a line, or that there is none."""
    if not stay:
        return "no slot"
    return f"{bays(stay)}, in {day(stay[0].in_day)}, out {day(stay[-1].out_day)}"
