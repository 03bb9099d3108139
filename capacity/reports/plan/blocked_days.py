"""Days on which a bay is empty and yet not free: its floor is taken, or its way is blocked."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from capacity.facts import Base
from capacity.plans.plan import Placement
from capacity.plans.way_rules import bays_on_the_way

FLOOR_TAKEN, WAY_BLOCKED = "floor taken", "way blocked"

Days = tuple[date, date]


@dataclass(frozen=True, slots=True)
class BlockedDays:
    """Days ``[first, until)`` on which nothing is in ``bay`` and ``check`` in ``by_bay`` is why.

    The floor is taken while a bay that shares it is occupied. The way is blocked between the
    in day and the out day of a check in a bay that it leads through, these not included.
    """

    bay: str
    first: date
    until: date
    kind: str
    check: str
    by_bay: str


def blocked_days(base: Base, placements: Sequence[Placement]) -> Iterator[BlockedDays]:
    """Give the blocked days of every bay that is tied to others."""
    bays = {bay.name: bay for bay in base.bays}
    stays: dict[str, list[Placement]] = {}
    for placement in sorted(placements, key=lambda p: (p.in_day, p.check)):
        stays.setdefault(placement.bay, []).append(placement)
    sharers = _floor_sharers(base)
    for bay in base.bays:
        sharing = sharers[bay.name]
        tied = (sharing | set(bays_on_the_way(bay.name, bays))) - {bay.name}
        if not tied:
            continue
        taken = [(p.in_day, p.out_day) for p in stays.get(bay.name, ())]
        taken += [(c.first, c.last + timedelta(days=1)) for c in base.closures if c.bay == bay.name]
        others = [stay for name in tied for stay in stays.get(name, ())]
        for other in sorted(others, key=lambda p: (p.in_day, p.check)):
            span, kind = (other.in_day, other.out_day), FLOOR_TAKEN
            if other.bay not in sharing:
                span, kind = (other.in_day + timedelta(days=1), other.out_day), WAY_BLOCKED
            for first, until in _left(span, taken):
                yield BlockedDays(bay.name, first, until, kind, other.check, other.bay)
            taken.append(span)  # the first reason is told, not two on one another


def _floor_sharers(base: Base) -> dict[str, set[str]]:
    """Return the bays that share floor with each; naming one of the two is enough."""
    sharers: dict[str, set[str]] = {bay.name: set(bay.shares_floor_with) for bay in base.bays}
    for bay in base.bays:
        for other in bay.shares_floor_with:
            sharers.setdefault(other, set()).add(bay.name)
    return sharers


def _left(span: Days, taken: Sequence[Days]) -> list[Days]:
    """Return the parts of ``span`` that none of the others covers."""
    left = [span]
    for first, until in taken:
        left = [
            part
            for begin, end in left
            for part in ((begin, min(end, first)), (max(begin, until), end))
            if part[0] < part[1]
        ]
    return left
