"""Columns that another column of the same check is at least as good as, in every respect."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array, hstack

from capacity.slots.candidates import LIMITS
from capacity.slots.program.linear_form import telling_cells
from capacity.slots.program.program import Program, Restricted

Floats = NDArray[np.float64]
# Amounts that differ by less are alike: sums of floats. Rounded first, so that being at least as
# good is transitive and stand-ins never go in a circle.
DECIMALS = 9
# Pairs of columns compared entry by entry at a time, for the memory that it takes.
PAIRS_AT_ONCE = 10_000


def undominated(restricted: Restricted, size: int) -> Restricted:
    """Return what is kept of a program of ``size`` columns, but for the dominated ones.

    ``from_whole`` puts in those that stand in for them; the least cost stays what it is. HiGHS
    drops such columns itself, but does not see then that a plan with one can be had without.
    """
    stand_in = np.arange(size)
    while True:
        better = stand_ins(restricted.program)
        own = better == np.arange(restricted.program.size)
        if own.all():
            return replace(restricted, stand_in=stand_in)
        replaced = np.arange(size)
        replaced[restricted.number] = restricted.number[better]
        stand_in = replaced[stand_in]
        restricted = restricted.then(restricted.program.restricted_to(own))


def stand_ins(program: Program) -> NDArray[np.int64]:
    """Return for each column one that is at least as good, itself if there is no other.

    Column k stands in for j of the same check if, for all rows r and telling cells c::

        past[k] <= past[j], money[k] <= money[j],
        footprint[k, r] <= footprint[j, r], man_hours[k, c] <= man_hours[j, c]

    So every choice stays one, and no dearer, when its columns give way to their stand-ins. Where
    hours are levelled, those with the same hours and limits only: fewer hours may be harder to put
    off. Where days are priced, those of the same course.
    """
    takes = csr_array(hstack([program.footprint, _hours(program)]))
    better = np.arange(program.size)
    for first, until in pairwise(program.first_column):
        if until - first > 1:
            mine = np.arange(first, until)
            goals = np.stack([program.money[mine], program.past[mine].astype(np.float64)], axis=1)
            better[first:until] = first + _at_least_as_good(takes[mine], goals)
    while (better[better] != better).any():
        better = better[better]
    return better


def _hours(program: Program) -> csr_array:
    """Return what columns ask where it tells, (columns, n): less is at least as good."""
    if not program.hours.are_levelled:
        return csr_array(program.man_hours[program.course][:, telling_cells(program)])
    if program.hours.days is not None:  # the same weeks may have other days
        own = np.arange(program.man_hours.shape[0])
        return csr_array(csr_array((np.ones(len(own)), (own, own)))[program.course])
    told = (1 + LIMITS) * program.hours.cells
    hours = csr_array(program.man_hours[:, :told]).sorted_indices()
    known: dict[bytes, int] = {}
    alike = []
    for first, until in pairwise(hours.indptr):
        amounts = hours.data[first:until].round(DECIMALS)
        mark = hours.indices[first:until].tobytes() + amounts.tobytes()
        alike.append(known.setdefault(mark, len(known)))
    courses = np.arange(len(alike))
    of_course = csr_array((np.ones(len(alike)), (courses, np.array(alike, dtype=np.int64))))
    return csr_array(of_course[program.course])


def _at_least_as_good(takes: csr_array, goals: Floats) -> NDArray[np.int64]:
    """Return for each column of a check the first that dominates it, else itself.

    Of columns that are alike the first one counts as the better.
    """
    dense = takes[:, np.unique(takes.indices)].toarray().round(DECIMALS)
    goals = goals.round(DECIMALS)
    some = (dense > 0).astype(np.float32)
    # What the better one takes some of, the worse one takes some of: few pairs are left.
    within = some @ some.T >= some.sum(axis=1)[:, None]
    no_dearer = (goals[:, None] <= goals[None]).all(axis=2)
    k, j = np.nonzero(within & no_dearer)
    parts = 1 + len(k) // PAIRS_AT_ONCE
    takes_less = np.concatenate(
        [
            (dense[some_k] <= dense[some_j]).all(axis=1)
            for some_k, some_j in zip(
                np.array_split(k, parts), np.array_split(j, parts), strict=True
            )
        ]
    )
    dominates = np.zeros(within.shape, dtype=np.bool_)
    dominates[k[takes_less], j[takes_less]] = True
    before = np.tri(len(dominates), k=-1, dtype=np.bool_).T
    dominates &= before | ~dominates.T
    np.fill_diagonal(dominates, False)
    number = np.arange(len(dominates))
    return np.where(dominates.any(axis=0), dominates.argmax(axis=0), number)
