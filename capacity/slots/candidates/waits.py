"""What an aircraft may wait for: its next bay, or its turn at a shop."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from capacity.slots.candidates.legs import kinds_by_leg
from capacity.slots.candidates.work import StageWork


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
