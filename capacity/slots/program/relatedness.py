"""Which checks can be in each other's way, and how much."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from capacity.slots.program.program import Program

# Every two checks are a little related, so that any pair can meet.
LEAST = 0.05
TINY = 1e-9


def relatedness(program: Program) -> NDArray[np.float64]:
    """Return the relatedness of each pair of checks, shape (checks, checks).

    The sum of two cosines: of the rows that any of their candidates touch, and of the most
    man-hours that any of them asks in each cell.
    """
    checks = len(program.checks)
    rows = np.zeros((checks, len(program.capacity)))
    for number, (first, until) in enumerate(pairwise(program.first_column)):
        rows[number] = program.footprint[np.arange(first, until)].sum(axis=0) > 0
    rows, cells = _of_length_one(rows), _of_length_one(program.most_asked)
    return rows @ rows.T + cells @ cells.T + LEAST


def related_to(
    check: int, relatedness_of_all: NDArray[np.float64], count: int, rng: np.random.Generator
) -> NDArray[np.int64]:
    """Return a check and others drawn by chance, rather those related to it, in rising order.

    ``count`` checks in all, or all there are; ``relatedness_of_all`` is (checks, checks).
    """
    checks = len(relatedness_of_all)
    nearness = relatedness_of_all[check] * rng.random(checks) ** 2
    nearness[check] = np.inf
    count = min(count, checks)
    return np.sort(np.argpartition(-nearness, count - 1)[:count])


def _of_length_one(vectors: NDArray[np.float64]) -> NDArray[np.float64]:
    lengths: NDArray[np.float64] = np.linalg.norm(vectors, axis=1, keepdims=True)
    return vectors / np.maximum(lengths, TINY)
