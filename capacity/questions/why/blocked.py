"""Which rules the places of a check would break beside a plan, and whom they would meet."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array

from capacity.questions.conflicts.places import AllPlaces
from capacity.questions.why.values import Blocker
from capacity.slots.program.choice import Choice
from capacity.slots.rules.families import packing_families
from capacity.slots.rules.period import THE_PERIOD
from capacity.slots.rules.rows import Rows
from capacity.slots.rules.rule import Rule

Mask = NDArray[np.bool_]
TINY = 1e-9


@dataclass(frozen=True)
class Broken:
    """What some columns break of one rule: ``lacking`` (rows, columns) has too little room.

    ``rules`` are named together where none of them alone is broken. ``matrix`` (rows, columns)
    is what the columns take; rows stand for a day and are called by ``names``. Who is met by
    one of ``hiding`` already is not named again.
    """

    rules: tuple[Rule, ...]
    hiding: frozenset[Rule]
    names: tuple[str, ...]
    matrix: csc_array
    lacking: csc_array

    @cached_property
    def columns(self) -> Mask:
        """Return which columns break it, (columns,)."""
        broken: Mask = np.diff(self.lacking.indptr) > 0
        return broken


class InTheWay:
    """Tells, for the columns of one check, what is in their way beside the others' columns."""

    def __init__(self, places: AllPlaces, others: Choice) -> None:
        """Prepare for ``others``, (checks,): the columns of a plan, -1 for the check asked."""
        self._names = places.names
        self._placed = np.flatnonzero(others >= 0)
        self._columns = others[self._placed]
        columns = places.columns()
        self._closed = places.closed(columns)
        self._broken: list[Broken] = []
        blocking = (b for _, packing in packing_families() for b in packing.blocking(places.base))
        for some in blocking:
            rows = some.rows(columns, places.opened)
            matrix = csc_array(rows.matrix)
            lacking = self._lacking(matrix, rows, some.hiding)
            if lacking.nnz:
                self._broken.append(Broken(some.told, some.hiding, rows.names, matrix, lacking))

    def _lacking(self, matrix: csc_array, family: Rows, hiding: frozenset[Rule]) -> csc_array:
        """Return the entries of columns in rows in which they find too little room.

        Without those that lack room on the same day by one of the rules that are ``hiding``.
        """
        taken = np.asarray(matrix[:, self._columns].sum(axis=1)).ravel()
        entries = matrix.tocoo()
        over = entries.data + taken[entries.row] > family.capacity[entries.row] + TINY
        over &= entries.data > 0
        number = {name: row for row, name in enumerate(family.names)}
        for broken in self._broken:
            if hiding & {*broken.rules}:
                told = broken.lacking.tocoo()
                row = np.array([number.get(broken.names[r], -1) for r in told.row], dtype=np.int64)
                keys = row * matrix.shape[1] + told.col
                over &= ~np.isin(entries.row * np.int64(matrix.shape[1]) + entries.col, keys)
        place = (entries.row[over], entries.col[over])
        return csc_array((np.ones(int(over.sum())), place), shape=matrix.shape)

    def broken_rules(self, columns: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return how many rules each of some columns of the check breaks."""
        count = np.zeros(len(columns), dtype=np.int64)
        for mask in (*self._closed.values(), *(broken.columns for broken in self._broken)):
            count += mask[columns]
        return count

    def of(self, column: int) -> tuple[Blocker, ...]:
        """Return what is in the way of a column; nothing when it stands."""
        if THE_PERIOD in self._closed and self._closed[THE_PERIOD][column]:
            return (Blocker(THE_PERIOD),)  # what else is in its way there is nobody's question
        found = [Blocker(rule) for rule, mask in self._closed.items() if mask[column]]
        for broken in self._broken:
            if not broken.columns[column]:
                continue
            start, end = broken.lacking.indptr[column : column + 2]
            there = broken.matrix[broken.lacking.indices[start:end]][:, self._columns]
            holds = np.asarray((there > 0).sum(axis=0)).ravel() > 0
            met = {name for b in found if b.rule in broken.hiding for name in b.by}
            names = [self._names[n] for n in self._placed[holds]]
            further = tuple(name for name in names if name not in met)
            if further or not names:
                found += [Blocker(rule, further) for rule in broken.rules]
        return tuple(found)
