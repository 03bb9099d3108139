"""Columns that no choice with so few days past ``Latest in`` can have.

A column takes places that other checks then cannot have. If some booked check is left without
any that is in time, or all of them together with too many days past, the column is of no use.
Where bays lie behind bays a third to a half of all columns go this way. It is what solvers
call probing, for the rows of this program alone: a second for what they take ten for.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.search_settings import SearchSettings
from capacity.slots.program.program import TINY, Program


def possible_within(program: Program, days: int, settings: SearchSettings) -> NDArray[np.bool_]:
    """Return which columns may be part of a choice with at most ``days`` past, (columns,)."""
    restricted = program.within_days(days)
    possible = np.zeros(program.size, dtype=np.bool_)
    possible[restricted.number[possible_columns(restricted.program, settings)]] = True
    return possible


def possible_columns(program: Program, settings: SearchSettings) -> NDArray[np.bool_]:
    """Return which columns may be part of a choice within ``days_allowed``, (columns,).

    Column j of check a stays if::

        past[j] + sum over checks i other than a of least[i, j] <= days_allowed

    with ``least[i, j]`` the fewest days past of a column of i that does not exclude j, or of
    leaving i out. Two columns exclude each other if both take more than half of a row. Said
    again of the columns that stay, until all do. Not looked at when many days are allowed.
    """
    stays = np.ones(program.size, dtype=np.bool_)
    if program.days_allowed is None:
        return stays
    allowed = program.days_allowed - program.settled_past
    if allowed > settings.most_days_probed:
        return stays
    footprint_of, footprints = _footprints(program)
    meetings = (np.bincount(footprints.indices, minlength=1).astype(np.float64) ** 2).sum()
    if meetings > settings.most_meetings:
        return stays
    excludes = (footprints @ footprints.T).tocsr()
    excludes.data[:] = 1.0
    while True:
        least = _least_past(program, stays, footprint_of, excludes)
        mine = least[footprint_of, program.check_of]
        others = least.sum(axis=1)[footprint_of] - mine
        impossible = stays & (program.past + others > allowed)
        if not impossible.any():
            return stays
        stays &= ~impossible


def _least_past(
    program: Program,
    stays: NDArray[np.bool_],
    footprint_of: NDArray[np.int64],
    excludes: csr_array,
) -> NDArray[np.float64]:
    """Return the fewest days past of each check beside each footprint, (footprints, checks)."""
    shape = (excludes.shape[0], len(program.checks))
    least = np.broadcast_to(program.unplaced_past.astype(np.float64), shape).copy()
    for days in np.unique(program.past[stays])[::-1]:
        there = np.zeros(shape, dtype=np.float32)
        timely = stays & (program.past <= days)
        there[footprint_of[timely], program.check_of[timely]] = 1.0
        has_place = excludes @ there < there.sum(axis=0)
        least[has_place] = np.minimum(least[has_place], days)
    return least


def _footprints(program: Program) -> tuple[NDArray[np.int64], csr_array]:
    """Return the number of each column's footprint, and the different footprints.

    The latter has shape (footprints, rows): 1 where a column takes more than half of a row.
    """
    rows = program.footprint.copy()
    rows.data = (rows.data > program.capacity[rows.indices] / 2 + TINY).astype(np.float32)
    rows.eliminate_zeros()
    number: dict[bytes, int] = {}
    footprint_of = np.array(
        [
            number.setdefault(rows.indices[first:until].tobytes(), len(number))
            for first, until in zip(rows.indptr[:-1], rows.indptr[1:], strict=True)
        ],
        dtype=np.int64,
    )
    _, first_column = np.unique(footprint_of, return_index=True)
    return footprint_of, rows[first_column]
