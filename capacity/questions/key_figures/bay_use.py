"""Days on which bays are open, and those on which an aircraft is in them."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from capacity.facts import Base
from capacity.plans.plan import Placement
from capacity.questions.key_figures.values import BayUse


def bay_uses(base: Base, placements: Sequence[Placement]) -> tuple[BayUse, ...]:
    """Return the use of every bay in the planning period, in the order of the workbook.

    use = occupied bay days / open bay days. A hospital's bed occupancy is counted alike: bed days
    used / bed days available (WHO Regional Office for Europe, European Health for All database,
    indicator 6210). A day counts whole, whatever of it is worked.
    """
    period = _days(base.first_day, base.last_in_day + timedelta(days=1))
    occupied = {bay.name: set[date]() for bay in base.bays}
    closed = {bay.name: set[date]() for bay in base.bays}
    for placement in placements:
        if placement.bay in occupied:
            occupied[placement.bay] |= period & _days(placement.in_day, placement.out_day)
    for closure in base.closures:
        closed[closure.bay] |= _days(closure.first, closure.last + timedelta(days=1))
    found = []
    for bay in base.bays:
        mine = occupied[bay.name]
        taken = set().union(*(occupied[other] for other in _sharing_floor(base, bay.name)))
        is_open = (period - closed[bay.name] - taken) | mine
        found.append(BayUse(bay.name, len(is_open), len(mine)))
    return tuple(found)


def _sharing_floor(base: Base, name: str) -> Iterable[str]:
    """Yield the bays that cannot be occupied on the same day; naming one of the two is enough."""
    for other in base.bays:
        if other.name in base.bay(name).shares_floor_with or name in other.shares_floor_with:
            yield other.name


def _days(first: date, until: date) -> set[date]:
    return {first + timedelta(days=number) for number in range((until - first).days)}
