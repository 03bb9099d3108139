"""Which checks can be in each other's way, and how much."""

import numpy as np
from numpy.typing import NDArray

from capacity.slots.program import Program

# Every two checks are a little akin, so that any pair can meet.
LEAST = 0.05
TINY = 1e-9


def kinship(program: Program) -> NDArray[np.float64]:
    """Return the kinship of each pair of checks, shape (checks, checks).

    The sum of two cosines: of the rows that any of their candidates touch, and of the most
    man-hours that any of them asks in each cell.
    """
    checks = len(program.checks)
    rows = np.zeros((checks, len(program.capacity)))
    cells = np.zeros((checks, len(program.regular)))
    for number in range(checks):
        first, until = program.first_column[number : number + 2]
        if until > first:
            rows[number] = program.footprint[np.arange(first, until)].sum(axis=0) > 0
            asks = program.man_hours[program.course[first:until]]
            cells[number] = asks.max(axis=0).toarray().ravel()
    rows /= np.maximum(np.linalg.norm(rows, axis=1, keepdims=True), TINY)
    cells /= np.maximum(np.linalg.norm(cells, axis=1, keepdims=True), TINY)
    return rows @ rows.T + cells @ cells.T + LEAST
