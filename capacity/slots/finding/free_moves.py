"""Where a check could go beside all others, and where it could if one of them left."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, csr_array

from capacity.slots.program.program import TINY, Program

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class FreeMoves:
    """Columns of a check that find room, counted from its first, rising.

    ``alone`` when only the check itself leaves its place; ``freed`` those besides that find room
    once a certain other check has left its own.
    """

    alone: Ints
    freed: dict[int, Ints]

    def beside(self, other: int) -> Ints:
        """Return the columns that find room once another check has left too, rising."""
        return np.union1d(self.alone, self.freed[other]) if other in self.freed else self.alone


def free_moves(
    program: Program, standing: csc_array, chosen: Ints, check: int, slack: Floats
) -> FreeMoves:
    """Return where a check finds room, ``slack`` (rows,) being what all together leave.

    ``standing`` (checks, rows) is what each check takes where it stands.
    """
    foot = program.footprint
    slack = with_column(slack, foot, int(chosen[check]), 1.0)
    first, until = (int(edge) for edge in program.first_column[check : check + 2])
    entries = slice(int(foot.indptr[first]), int(foot.indptr[until]))
    row, needed = foot.indices[entries], foot.data[entries] - slack[foot.indices[entries]]
    short = np.flatnonzero(needed > TINY)
    column = np.repeat(np.arange(until - first), np.diff(foot.indptr[first : until + 1]))[short]
    lacking = np.bincount(column, minlength=until - first)
    row, needed = row[short], needed[short]
    # Each lack beside everybody who takes some of that row.
    start, count = standing.indptr[row], standing.indptr[row + 1] - standing.indptr[row]
    lack = np.repeat(np.arange(len(short)), count)
    taken = np.repeat(start - np.cumsum(count) + count, count) + np.arange(count.sum())
    other = standing.indices[taken].astype(np.int64)
    is_enough = (standing.data[taken] >= needed[lack] - TINY) & (other != check)
    checks = len(program.checks)
    key, met = np.unique(column[lack[is_enough]] * checks + other[is_enough], return_counts=True)
    freed = key[met == lacking[key // checks]]
    in_turn = freed[np.argsort(freed % checks, kind="stable")]
    others, begin = np.unique(in_turn % checks, return_index=True)
    parts = np.split(in_turn // checks, begin[1:])
    return FreeMoves(
        alone=np.flatnonzero(lacking == 0),
        freed={int(o): parts[number] for number, o in enumerate(others)},
    )


def with_column(slack: Floats, foot: csr_array, column: int, sign: float) -> Floats:
    """Return the slack once a column has left (sign 1) or come (-1); -1 is no column."""
    if column < 0:
        return slack
    changed = slack.copy()
    entries = slice(foot.indptr[column], foot.indptr[column + 1])
    changed[foot.indices[entries]] += sign * foot.data[entries]
    return changed


def fit_together(foot: csr_array, slack: Floats, columns: Sequence[Ints]) -> NDArray[np.bool_]:
    """Return which find ``slack`` (rows,) together: a column (n,) of each check, -1 for none."""
    takes = sum((_rows_of(foot, mine) for mine in columns[1:]), start=_rows_of(foot, columns[0]))
    lacking = takes.data > slack[takes.indices] + TINY
    which = np.repeat(np.arange(len(columns[0])), np.diff(takes.indptr))
    fits: NDArray[np.bool_] = np.bincount(which[lacking], minlength=len(columns[0])) == 0
    return fits


def _rows_of(foot: csr_array, columns: Ints) -> csr_array:
    """Return the footprints of columns, an empty one for -1."""
    count = np.where(columns < 0, 0, np.diff(foot.indptr)[columns])
    start = np.where(columns < 0, 0, foot.indptr[columns])
    entry = np.repeat(start - np.cumsum(count) + count, count) + np.arange(count.sum())
    indptr = np.concatenate(([0], np.cumsum(count)))
    return csr_array(
        (foot.data[entry], foot.indices[entry], indptr), shape=(len(columns), foot.shape[1])
    )
