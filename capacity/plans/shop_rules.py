"""No shop turns round more items than its daily rate allows."""

from collections.abc import Iterable, Iterator

from capacity.facts import Base, Shop
from capacity.plans.stays import Sent, Stay
from capacity.plans.work_left import TOLERANCE
from capacity.plans.worked_days import WorkedDays


def broken(stays: Iterable[Stay], base: Base, worked_days: WorkedDays) -> Iterator[str]:
    """Between any two days, ``items <= rate * worked days``.

    The items are those that leave their aircraft on the first day or later and are wanted
    back on the second day or earlier. Of several windows that are asked too much, the
    shortest is told.
    """
    sent = [errand for stay in stays for errand in stay.sent]
    for shop in base.shops:
        mine = [errand for errand in sent if errand.shop == shop.name]
        yield from _overfull(shop, mine, worked_days)


def _overfull(shop: Shop, sent: list[Sent], worked_days: WorkedDays) -> Iterator[str]:
    windows = sorted(
        (until - first, first, until)
        for first in {errand.leave for errand in sent}
        for until in {errand.back for errand in sent}
        if first < until
    )
    for _, first, until in windows:
        inside = [e for e in sent if first <= e.leave and e.back <= until]
        items = sum(errand.items for errand in inside)
        room = shop.items_per_day * worked_days.count(first, until)
        if items > room + TOLERANCE:
            checks = ", ".join(dict.fromkeys(errand.check for errand in inside))
            yield (
                f"The shop {shop.name} can do {room:g} items from {first} until {until}, "
                f"too few for the {items} of {checks}."
            )
            return
