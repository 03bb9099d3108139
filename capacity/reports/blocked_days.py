"""Days on which a bay is empty and yet not free: its floor is taken, or its way is blocked."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from capacity.facts import Base, Bay
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
    for bay in base.bays:
        taken = [(p.in_day, p.out_day) for p in placements if p.bay == bay.name]
        taken += [(c.first, c.last + timedelta(days=1)) for c in base.closures if c.bay == bay.name]
        way = bays_on_the_way(bay.name, bays)
        for other in sorted(placements, key=lambda p: (p.in_day, p.check)):
            if other.bay == bay.name:
                continue
            span, kind = (other.in_day, other.out_day), FLOOR_TAKEN
            if not _share_floor(bay, other.bay, bays):
                if other.bay not in way:
                    continue
                span, kind = (other.in_day + timedelta(days=1), other.out_day), WAY_BLOCKED
            for first, until in _left(span, taken):
                yield BlockedDays(bay.name, first, until, kind, other.check, other.bay)
            taken.append(span)  # the first reason is told, not two on one another


def _share_floor(bay: Bay, other: str, bays: Mapping[str, Bay]) -> bool:
    named = other in bays and bay.name in bays[other].shares_floor_with
    return named or other in bay.shares_floor_with


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
