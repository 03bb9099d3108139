"""The paces at which a check can be run: how many worked days each stage takes."""

import math
from itertools import product

from capacity.slots.candidates.work import StageWork

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
