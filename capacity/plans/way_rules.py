"""An aircraft moves in and out only while every bay on its way is clear."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from capacity.facts import Bay
from capacity.plans.stays import Visit
from capacity.words import day as as_day


def broken(stays: Sequence[Visit], bays: Mapping[str, Bay]) -> Iterator[str]:
    """On its in day and its out day, no other check is in a bay on its way.

    ``not other in_day < day < other out_day``: on the other's own in day or out day one
    waits for the other, which is allowed.
    """
    by_bay: defaultdict[str, list[Visit]] = defaultdict(list)
    for stay in stays:
        by_bay[stay.bay].append(stay)
    for mover in stays:
        for outer in bays_on_the_way(mover.bay, bays):
            for other in by_bay[outer]:
                yield from _blocked(mover, other)


def bays_on_the_way(bay: str, bays: Mapping[str, Bay]) -> list[str]:
    """Follow ``Reached through`` outwards, from the nearest bay to the last one."""
    way: list[str] = []
    while bay in bays:
        outer = bays[bay].reached_through
        if outer is None or outer in way:
            break
        way.append(outer)
        bay = outer
    return way


def _blocked(mover: Visit, other: Visit) -> Iterator[str]:
    for moves, day in (("comes into", mover.in_day), ("leaves", mover.out_day)):
        if other.in_day < day < other.out_day:
            yield (
                f"{mover.check.name} {moves} bay {mover.bay} on {as_day(day)}, "
                f"but {other.check.name} is in its way in bay {other.bay} "
                f"from {as_day(other.in_day)} until {as_day(other.out_day)}."
            )
