"""What an aircraft may wait for: its next bay, or its turn at a shop."""

import math
from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass

from capacity.slots.legs import kinds_by_leg
from capacity.slots.work import StageWork

# The candidates of a check grow with its ways to wait; so many of them are still quick.
MOST_WAYS = 64


@dataclass(frozen=True)
class Waits:
    """Calendar days waited before each move but the first, and by each stage for a shop."""

    moves: tuple[int, ...]
    turns: tuple[int, ...]


def waits_of(work: tuple[StageWork, ...], longest: int, busy_shops: Set[str]) -> list[Waits]:
    """Return every way to wait up to ``longest`` days a time, not at all first.

    When there are more than ``MOST_WAYS``, those that wait more than ``longest`` days in all
    are left out.

    Only a stage with items at one of the ``busy_shops``, those that several want, waits for
    its turn: by itself it starts as soon as its items are back.
    """
    days = range(longest + 1)
    moves = len(kinds_by_leg(work)) - 1
    turns = [
        days if any(loop.shop in busy_shops for loop in stage.loops) else range(1) for stage in work
    ]
    most = [longest] * moves + [max(turn) for turn in turns]
    count = math.prod(days + 1 for days in most)
    in_all = sum(most) if count <= MOST_WAYS else longest
    return [Waits(way[:moves], way[moves:]) for way in _ways(most, in_all)]


def _ways(most: Sequence[int], in_all: int) -> Iterator[tuple[int, ...]]:
    """Yield all whole numbers from 0 to ``most`` with a sum of ``in_all`` at the most."""
    if not most:
        yield ()
        return
    for first in range(min(most[0], in_all) + 1):
        for others in _ways(most[1:], in_all - first):
            yield (first, *others)
