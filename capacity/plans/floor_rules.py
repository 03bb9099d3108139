"""Bays that share floor are never occupied on one day."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations

from capacity.facts import Bay
from capacity.plans.stays import Visit
from capacity.words import day as as_day


def broken(stays: Iterable[Visit], bays: Mapping[str, Bay]) -> Iterator[str]:
    """Two stays ``[in_day, out_day)`` in bays that share floor have no day in common.

    It is enough that one of the two bays names the other.
    """
    in_turn = sorted(stays, key=lambda stay: (stay.in_day, stay.out_day))
    for earlier, later in combinations(in_turn, 2):
        first, until = later.in_day, min(earlier.out_day, later.out_day)
        if first < until and _share_floor(earlier.bay, later.bay, bays):
            yield (
                f"{earlier.check.name} in bay {earlier.bay} and {later.check.name} in bay "
                f"{later.bay} are on the same floor from {as_day(first)} until {as_day(until)}."
            )


def _share_floor(one: str, other: str, bays: Mapping[str, Bay]) -> bool:
    """Bays that the base does not have share nothing; nor does a bay with itself."""
    if one == other or one not in bays or other not in bays:
        return False
    return other in bays[one].shares_floor_with or one in bays[other].shares_floor_with
