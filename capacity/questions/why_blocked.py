"""Which rules the places of a check would break beside a plan, and whom they would meet."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array

from capacity.facts import Base
from capacity.questions.conflict_pairs import floor_by_pairs, ways_by_pairs
from capacity.questions.conflict_places import AllPlaces
from capacity.questions.conflict_rows import RuleRows
from capacity.questions.conflict_rules import Kind, Rule, rules_of
from capacity.questions.why_values import Blocker
from capacity.slots.rules.rows import Rows

Choice = NDArray[np.int64]
Mask = NDArray[np.bool_]
TINY = 1e-9


@dataclass(frozen=True)
class Broken:
    """What some columns break of one rule: ``rows`` (rows, columns) are those that lack room.

    ``rules`` are told together where none of them alone is broken.
    """

    rules: tuple[Rule, ...]
    rows: csc_array

    @cached_property
    def columns(self) -> Mask:
        """Return which columns break it, (columns,)."""
        broken: Mask = np.diff(self.rows.indptr) > 0
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
        self._families: list[tuple[Broken, csc_array]] = []
        rows = RuleRows(columns, places.opened)
        for rules, family, hiding in _families(places, rows):
            matrix = csc_array(family.matrix)
            hidden = np.zeros(matrix.shape[1], dtype=np.bool_)
            for broken, _ in self._families:
                if hiding & {*broken.rules}:
                    hidden |= broken.columns
            lacking = self._lacking(matrix, family.capacity, hidden)
            if lacking.nnz:
                self._families.append((Broken(rules, lacking), matrix))

    def _lacking(self, matrix: csc_array, capacity: NDArray[np.float64], hidden: Mask) -> csc_array:
        """Return the entries of columns in rows in which they find too little room."""
        taken = np.asarray(matrix[:, self._columns].sum(axis=1)).ravel()
        entries = matrix.tocoo()
        over = entries.data + taken[entries.row] > capacity[entries.row] + TINY
        over &= (entries.data > 0) & ~hidden[entries.col]
        place = (entries.row[over], entries.col[over])
        return csc_array((np.ones(int(over.sum())), place), shape=matrix.shape)

    @cached_property
    def broken_rules(self) -> NDArray[np.int64]:
        """Return how many rules each column breaks; of others' columns it says nothing."""
        masks = [*self._closed.values(), *(broken.columns for broken, _ in self._families)]
        columns = self._families[0][1].shape[1] if self._families else len(masks[0]) if masks else 0
        count = np.zeros(columns, dtype=np.int64)
        for mask in masks:
            count += mask
        return count

    def of(self, column: int) -> tuple[Blocker, ...]:
        """Return what is in the way of a column; nothing when it stands."""
        found = [Blocker(rule) for rule, mask in self._closed.items() if mask[column]]
        for broken, matrix in self._families:
            if broken.columns[column]:
                start, end = broken.rows.indptr[column : column + 2]
                there = matrix[broken.rows.indices[start:end]][:, self._columns]
                holds = np.asarray((there > 0).sum(axis=0)).ravel() > 0
                names = tuple(self._names[n] for n in self._placed[holds])
                found += [Blocker(rule, names) for rule in broken.rules]
        return tuple(found)


def _families(
    places: AllPlaces, rows: RuleRows
) -> Iterator[tuple[tuple[Rule, ...], Rows, frozenset[Rule]]]:
    """Yield the rows of each rule, and the rules, told before, that say the same and more.

    Where a place breaks one of those it is not told that it breaks this one, too.
    """
    base, columns, nothing = places.base, places.columns(), frozenset[Rule]()
    for bay in base.bays:
        at_once = Rule(Kind.ONE_AT_A_TIME, bay.name)
        yield (at_once,), rows.of_bay(bay.name, False), nothing
        if bay.changeover_days:
            changeover = Rule(Kind.CHANGEOVER, bay.name)
            yield (changeover,), rows.of_bay(bay.name, True), frozenset({at_once})
        if bay.reached_through is not None:
            way = Rule(Kind.WAY, bay.name, bay.reached_through)
            yield (way,), ways_by_pairs(columns, base, bay.name), nothing
    for rule in rules_of(base, (), on_time=False):
        if rule.kind is Kind.FLOOR:
            yield (rule,), floor_by_pairs(columns, rule.of, rule.other), nothing
    for pool in base.equipment:
        yield from _of_pool(pool.name, base, rows)
    for shop in base.shops:
        yield (Rule(Kind.SHOP, shop.name),), rows.of_shop(shop.name), nothing


def _of_pool(
    pool: str, base: Base, rows: RuleRows
) -> Iterator[tuple[tuple[Rule, ...], Rows, frozenset[Rule]]]:
    """Yield the rows of a pool with none, each, and at last all of its outages."""
    number = Rule(Kind.EQUIPMENT, pool)
    yield (number,), rows.of_equipment(pool, frozenset()), frozenset()
    outages = tuple(
        Rule(Kind.OUTAGE, pool, row=row)
        for row, outage in enumerate(base.equipment_outages)
        if outage.equipment == pool
    )
    for rule in outages:
        yield (rule,), rows.of_equipment(pool, frozenset({rule.row})), frozenset({number})
    if len(outages) > 1:
        together = frozenset(rule.row for rule in outages)
        yield outages, rows.of_equipment(pool, together), frozenset({number, *outages})
