"""What is left to choose of the work of a check: its pace, and what it may wait for.

A pace is how many worked days each stage takes. An aircraft may wait for its next bay, or for its
turn at a shop.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from capacity.slots.candidates.work import StageWork, kinds_by_leg

# Where not all paces are tried and so many stages are flexible at the most, each of them is
# also run fast or slow by itself.
FEW_FLEXIBLE = 4

Pace = tuple[int, ...]
"""Worked days by stage."""


def count_of_paces(work: tuple[StageWork, ...]) -> int:
    """Return how many paces there are."""
    return math.prod(stage.longest - stage.shortest + 1 for stage in work)


def all_paces(work: tuple[StageWork, ...]) -> list[Pace]:
    """Return every pace, the normal one first, none twice; man-hours stay the same."""
    normal = tuple(stage.days for stage in work)
    ranges = (range(stage.shortest, stage.longest + 1) for stage in work)
    return list(dict.fromkeys((normal, *product(*ranges))))


def few_paces(work: tuple[StageWork, ...]) -> list[Pace]:
    """Return some paces, the normal one first, none twice.

    Normal, every stage at its shortest, every stage at its longest; and, where few stages
    are flexible, one of them alone at its shortest or longest.
    """
    normal = tuple(stage.days for stage in work)
    shortest = tuple(stage.shortest for stage in work)
    longest = tuple(stage.longest for stage in work)
    flexible = [n for n in range(len(work)) if shortest[n] < longest[n]]
    paces = [normal, shortest, longest]
    if len(flexible) <= FEW_FLEXIBLE:
        for number in flexible:
            for days in (shortest[number], longest[number]):
                paces.append((*normal[:number], days, *normal[number + 1 :]))
    return list(dict.fromkeys(paces))


@dataclass(frozen=True)
class Waits:
    """Calendar days waited before each move but the first, and by each stage for a shop."""

    moves: tuple[int, ...]
    turns: tuple[int, ...]


def count_of_waits(work: tuple[StageWork, ...], longest: int) -> int:
    """Return how many ways to wait up to ``longest`` days a time there are."""
    places = len(kinds_by_leg(work)) - 1 + sum(bool(stage.loops) for stage in work)
    return int((1 + longest) ** places)


def waits_of(
    work: tuple[StageWork, ...], longest: int, in_all: int | None = None
) -> Iterator[Waits]:
    """Yield every way to wait up to ``longest`` days a time, not at all first.

    A check may wait for each move, and each stage with items at a shop for its turn: also
    where nobody else wants the bay or the shop, since some days later the hours may be
    cheaper. With ``in_all`` only ways that wait no more days than that in all.
    """
    moves = len(kinds_by_leg(work)) - 1
    most = [longest] * moves + [longest if stage.loops else 0 for stage in work]
    for way in _ways(most, sum(most) if in_all is None else in_all):
        yield Waits(way[:moves], way[moves:])


def _ways(most: Sequence[int], in_all: int) -> Iterator[tuple[int, ...]]:
    """Yield all whole numbers from 0 to ``most`` with a sum of ``in_all`` at the most."""
    if not most:
        yield ()
        return
    for first in range(min(most[0], in_all) + 1):
        for others in _ways(most[1:], in_all - first):
            yield (first, *others)
