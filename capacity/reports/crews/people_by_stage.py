"""Whole parts of a shift for each stage that the people of a crew work on, on one aircraft."""

from collections.abc import Sequence
from math import inf, sqrt


def people_by_stage(heads: float, parts: int, hours: Sequence[float]) -> tuple[float, ...]:
    """Share people between stages by their man-hours, in whole parts of a shift.

    Returns people a stage, each a multiple of ``1 / parts``, together ``heads``. Every stage
    has some as long as there are parts enough; of the others the people of the largest stages
    take care, and they have 0. Each part in turn goes where ``hours / sqrt(n (n + 1))`` is
    largest, ``n`` being the parts that the stage has (Huntington and Hill, equal proportions;
    from memory).
    """
    given = [0] * len(hours)
    for _ in range(round(heads * parts)):
        stage = max(range(len(hours)), key=lambda at: (_claim(hours[at], given[at]), hours[at]))
        given[stage] += 1
    return tuple(number / parts for number in given)


def _claim(hours: float, parts: int) -> float:
    return hours / sqrt(parts * (parts + 1)) if parts else inf
