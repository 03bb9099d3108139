"""The short upright bars of the sheet ``Bay occupancy``: the day on which a check is agreed out."""

from collections.abc import Collection, Iterator
from datetime import date

from capacity.plans.plan import Placement
from capacity.reports.plan.drawn_days import DrawnDays
from capacity.reports.plan.view import View
from capacity.words import day
from capacity.words.marks import AGREED, BAR

NEAR_DAYS = 14
"""A day agreed further ahead than this is not drawn: it tells nothing about this slot."""

WORD_DAYS = 3
"""Columns that the word beside a bar takes."""


def bar_columns(
    view: View, placements: Collection[Placement], drawn: DrawnDays, taken: Collection[int]
) -> dict[str, int]:
    """Return the column of the bar of each check of a bay that is out in time, by its name.

    A bar is drawn where the days up to it belong to no other check, and where there is room for
    its word: ``taken`` are the columns that something has.
    """
    return {
        placement.check: column
        for placement, agreed in _agreed(view, placements)
        for column in drawn.columns(agreed, agreed + drawn.ONE_DAY)
        if not any(
            placement.out_day <= other.in_day < agreed
            for other in placements
            if other is not placement
        )
        and _has_room(column, drawn, taken)
    }


def told_in_the_slot(view: View, placement: Placement, bars: Collection[str]) -> str:
    """Return the line in a slot whose bar is not drawn, empty for the others."""
    for _, agreed in _agreed(view, [placement]):
        if placement.check in bars:
            return ""
        at_its_end = agreed == placement.out_day
        return f"{BAR} {AGREED}" if at_its_end else f"{BAR} {AGREED} {day(agreed)}"
    return ""


def _agreed(view: View, placements: Collection[Placement]) -> Iterator[tuple[Placement, date]]:
    """Yield the last bay of each check that is out by a day agreed soon after."""
    for placement in placements:
        agreed = view.agreed_out(placement)
        is_last = view.last_of[placement.check] is placement
        if agreed is not None and is_last and 0 <= (agreed - placement.out_day).days <= NEAR_DAYS:
            yield placement, agreed


def _has_room(column: int, drawn: DrawnDays, taken: Collection[int]) -> bool:
    wanted = range(column, column + WORD_DAYS)
    return (
        wanted[-1] < len(drawn.days)
        and not any(one in taken for one in wanted)
        and drawn.page_of(wanted[0]) == drawn.page_of(wanted[-1])
    )
