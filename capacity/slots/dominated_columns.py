"""Columns that another column of the same check is at least as good as, in every respect."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array, hstack

from capacity.slots.linear_form import telling_cells
from capacity.slots.program import TINY, Program

Floats = NDArray[np.float64]


def stand_ins(program: Program) -> NDArray[np.int64]:
    """Return for each column one that is at least as good, itself if there is no other.

    Column k stands in for j of the same check if, for all rows r and telling cells c::

        past[k] <= past[j], money[k] <= money[j],
        footprint[k, r] <= footprint[j, r], man_hours[k, c] <= man_hours[j, c]

    So every choice stays one, and no dearer, when its columns give way to their stand-ins.
    """
    hours = program.man_hours[program.course][:, telling_cells(program)]
    takes = csr_array(hstack([program.footprint, hours]))
    better = np.arange(program.size)
    for first, until in pairwise(program.first_column):
        if until - first > 1:
            mine = np.arange(first, until)
            goals = np.stack([program.money[mine], program.past[mine].astype(np.float64)], axis=1)
            better[first:until] += _at_least_as_good(takes[mine], goals) - np.arange(until - first)
    while (better[better] != better).any():
        better = better[better]
    return better


def _at_least_as_good(takes: csr_array, goals: Floats) -> NDArray[np.int64]:
    """Return for each column of a check the first that dominates it, else itself.

    Of columns that are alike the first one counts as the better.
    """
    dense = takes[:, np.unique(takes.indices)].toarray()
    some = (dense > 0).astype(np.float32)
    # What the better one takes some of, the worse one takes some of: few pairs are left.
    within = some @ some.T >= some.sum(axis=1)[:, None]
    no_dearer = (goals[:, None] <= goals[None] + TINY).all(axis=2)
    k, j = np.nonzero(within & no_dearer)
    takes_less = (dense[k] <= dense[j] + TINY).all(axis=1)
    dominates = np.zeros(within.shape, dtype=np.bool_)
    dominates[k[takes_less], j[takes_less]] = True
    before = np.tri(len(dominates), k=-1, dtype=np.bool_).T
    dominates &= before | ~dominates.T
    np.fill_diagonal(dominates, False)
    number = np.arange(len(dominates))
    return np.where(dominates.any(axis=0), dominates.argmax(axis=0), number)
