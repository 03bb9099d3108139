"""What an aircraft may wait for: its next bay, or its turn at a shop."""

from collections.abc import Set
from dataclasses import dataclass
from itertools import product

from capacity.slots.legs import kinds_by_leg
from capacity.slots.work import StageWork


@dataclass(frozen=True)
class Waits:
    """Calendar days waited before each move but the first, and by each stage for a shop."""

    moves: tuple[int, ...]
    turns: tuple[int, ...]


def waits_of(work: tuple[StageWork, ...], longest: int, busy_shops: Set[str]) -> list[Waits]:
    """Return every way to wait up to ``longest`` days a time, not at all first.

    Only a stage with items at one of the ``busy_shops``, those that several want, waits for
    its turn: by itself it starts as soon as its items are back.
    """
    days = range(longest + 1)
    moves = len(kinds_by_leg(work)) - 1
    turns = [
        days if any(loop.shop in busy_shops for loop in stage.loops) else (0,) for stage in work
    ]
    return [Waits(way[:moves], way[moves:]) for way in product(*([days] * moves), *turns)]
