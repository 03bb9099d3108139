"""No shop turns round more items than its daily rate allows."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from capacity.facts import Base, Shop
from capacity.plans.stays import Sent, Stay
from capacity.plans.work_left import TOLERANCE
from capacity.plans.worked_days import WorkedDays
from capacity.words import day, listed


@dataclass(frozen=True, slots=True)
class _Window:
    """Days ``[first, until)``, of which the base works ``days``."""

    first: date
    until: date
    days: int


def broken(stays: Iterable[Stay], base: Base, worked_days: WorkedDays) -> Iterator[str]:
    """Between any two days, ``items <= rate * worked days``.

    The items are those that leave their aircraft on the first day or later and are wanted
    back on the second day or earlier. Exactly then there is an order in which the shop can do
    them all in time. Of windows that overlap, the shortest that is asked too much is told.
    """
    by_shop: defaultdict[str, list[Sent]] = defaultdict(list)
    for stay in stays:
        for sent in stay.sent:
            by_shop[sent.shop].append(sent)
    for shop in base.shops:
        told: list[_Window] = []
        overfull = _overfull(shop, by_shop[shop.name], worked_days)
        for window in sorted(overfull, key=lambda w: (w.until - w.first, w.first)):
            if all(window.until <= w.first or w.until <= window.first for w in told):
                told.append(window)
                yield _sentence(shop, window, by_shop[shop.name])


def _overfull(shop: Shop, sent: Sequence[Sent], worked_days: WorkedDays) -> Iterator[_Window]:
    """Go through the windows from a day on which items leave to one on which some are wanted."""
    by_back = sorted(sent, key=lambda sent: sent.back)
    for first in {sent.leave for sent in sent}:
        items, days, counted = 0, 0, first
        for one in by_back:
            if one.leave >= first:
                items += one.items
                days += worked_days.count(counted, one.back)
                counted = one.back
                if items > shop.items_per_day * days + TOLERANCE:
                    yield _Window(first, one.back, days)


def _sentence(shop: Shop, window: _Window, sent: Iterable[Sent]) -> str:
    asked: defaultdict[str, int] = defaultdict(int)
    for one in sent:
        if window.first <= one.leave and one.back <= window.until:
            asked[one.check] += one.items
    parts = listed([f"{items} of {check}" for check, items in asked.items()])
    return (
        f"The shop {shop.name} does {shop.items_per_day:g} items per day, so "
        f"{shop.items_per_day * window.days:g} from {day(window.first)} "
        f"until {day(window.until)}, "
        f"too few for the {sum(asked.values())} sent to it: {parts}."
    )
