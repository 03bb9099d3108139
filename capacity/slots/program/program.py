"""The program over candidates as plain data, ready for whichever engine serves."""

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.errors import TooLargeError
from capacity.facts import Base, Check, Status
from capacity.labour.guarantees import guaranteed_money
from capacity.labour.supply import Supply
from capacity.slots.candidates import MORE, Slots, columns_of, settled_hours, tied_together
from capacity.slots.line.heed import Heed, nobody_stops
from capacity.slots.program.choice import Choice
from capacity.slots.program.hours import Hours, hours_of
from capacity.slots.program.strands import strands_of
from capacity.slots.rules.families import packing_families
from capacity.slots.rules.rows import stacked

# Amounts of a row are small whole numbers; sums of them in floats are off by less.
TINY = 1e-9
# More columns are not looked at together. Two million took 13.7 GB with their rows and what the
# sides of a search hold of them.
MOST_COLUMNS, BYTES_A_COLUMN = 500_000, 7_000


@dataclass(frozen=True)
class Program:
    """Choose at most one column a check so that every row holds and the cost is least.

    Columns stand check by check; ``first_column`` has shape (checks + 1,).

    * ``one slot``: a check takes one column, or none and counts ``unplaced_past`` days,
      which is 0 for an option.
    * ``footprint`` (columns, rows) non-negative, ``capacity`` (rows,):
      sum of footprint over chosen columns <= capacity. Rows that are many and seldom bind are
      marked by ``lazy`` (rows,).
    * ``days_allowed``: sum of ``past`` over chosen columns and of ``unplaced_past`` over
      checks left out; None sets no bound.
    * ``place`` and ``in_day`` (columns,) bind nothing: where and when a check comes in, for a
      search that looks at checks near each other. Bays that are tied are one place.
    * man-hours: ``man_hours`` (courses, cells) over the chosen ``course``, on top of
      ``asked`` (cells,), against the regular ``hours``, the excess taken from their pools as
      cheaply as can be. A cell is a week and a kind of work. Where hours are levelled, the limits
      of levelling come behind the even hours of the cells, and then which courses they are of;
      see ``Hours``.

    Cost: days past first; then ``money`` of the chosen columns plus the pools' hours. What is
    settled beforehand adds ``settled_past`` and ``settled_money`` to any choice.
    """

    checks: tuple[str, ...]
    first_column: NDArray[np.int64]
    unplaced_past: NDArray[np.int64]
    course: NDArray[np.int64]
    past: NDArray[np.int64]
    money: NDArray[np.float64]
    place: NDArray[np.int64]
    in_day: NDArray[np.int64]
    footprint: csr_array
    capacity: NDArray[np.float64]
    row_names: tuple[str, ...]
    lazy: NDArray[np.bool_]
    man_hours: csr_array
    asked: NDArray[np.float64]
    hours: Hours
    settled_past: int = 0
    settled_money: float = 0.0
    days_allowed: int | None = None

    @property
    def size(self) -> int:
        """Return the number of columns."""
        return len(self.money)

    @cached_property
    def check_of(self) -> NDArray[np.int64]:
        """Return the check of each column, shape (columns,)."""
        return np.repeat(np.arange(len(self.checks)), np.diff(self.first_column))

    @cached_property
    def most_asked(self) -> NDArray[np.float64]:
        """Return the most that any column of each check can ask of a cell, (checks, cells)."""
        cells = self.hours.cells
        most = np.zeros((len(self.checks), cells))
        hours = self.man_hours[:, :cells]
        if self.hours.are_levelled:
            hours = csr_array(hours + self.limit(MORE))
        for check, (first, until) in enumerate(pairwise(self.first_column)):
            if until > first:
                asks = hours[self.course[first:until]]
                most[check] = asks.max(axis=0).toarray().ravel()
        return most

    def limit(self, number: int) -> csr_array:
        """Return one of the limits of levelling of all courses, (courses, cells)."""
        first = (1 + number) * self.hours.cells
        return csr_array(self.man_hours[:, first : first + self.hours.cells])

    def within_days(self, days: int, columns: NDArray[np.bool_] | None = None) -> "Restricted":
        """Return the program of the choices with at most ``days`` past ``Latest in``.

        Of ``columns`` (columns,) only, where it is known which of them such choices may have.
        """
        timely = self.past <= days - self.settled_past
        may = timely if columns is None else timely & columns
        return replace(self, days_allowed=days).restricted_to(may)

    def restricted_to(self, columns: NDArray[np.bool_]) -> "Restricted":
        """Return the program over some columns only, without the rows that cannot bind then."""
        number = np.flatnonzero(columns)
        check_of, footprint = self.check_of[number], self.footprint[number]
        count = np.bincount(check_of, minlength=len(self.checks))
        binding = np.flatnonzero(most_taken(footprint, check_of) > self.capacity + TINY)
        smaller = replace(
            self,
            first_column=np.concatenate(([0], np.cumsum(count))),
            course=self.course[number],
            past=self.past[number],
            money=self.money[number],
            place=self.place[number],
            in_day=self.in_day[number],
            footprint=footprint,
        )
        return Restricted(smaller.with_rows(binding), number)

    def with_rows(self, rows: NDArray[np.int64]) -> "Program":
        """Return the program with some of its rows only; its choices may break the others."""
        return replace(
            self,
            footprint=self.footprint[:, rows],
            capacity=self.capacity[rows],
            row_names=tuple(self.row_names[row] for row in rows),
            lazy=self.lazy[rows],
        )

    def no_choice(self) -> Choice:
        """Return the choice that leaves every check out."""
        return np.full(len(self.checks), -1, dtype=np.int64)

    def columns_of(self, check: int) -> NDArray[np.int64]:
        """Return the columns of a check, in rising order."""
        return np.arange(*self.first_column[check : check + 2])

    def places_of(self, check: int, columns: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return which of the places of a check, from 0 on, some of its columns are."""
        places: NDArray[np.int64] = columns - self.first_column[check]
        return places

    def place_of(self, check: int, column: int) -> int:
        """Return which of the places of a check, from 0 on, one of its columns is."""
        return int(column - self.first_column[check])

    def taken(self, chosen: Choice) -> NDArray[np.float64]:
        """Return what a choice takes of each row, shape (rows,)."""
        return np.asarray(self.footprint[chosen[chosen >= 0]].sum(axis=0), dtype=np.float64)

    def slack(self, chosen: Choice) -> NDArray[np.float64]:
        """Return what a choice leaves of each row, shape (rows,)."""
        return self.capacity - self.taken(chosen)

    def fits(self, columns: NDArray[np.int64], slack: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Return which columns take no more than the ``slack`` (rows,) of any row."""
        foot = self.footprint[columns]
        too_much = foot.data > slack[foot.indices] + TINY
        fits = np.ones(len(columns), dtype=np.bool_)
        fits[np.repeat(np.arange(len(columns)), np.diff(foot.indptr))[too_much]] = False
        return fits

    def free_columns(self, check: int, slack: NDArray[np.float64]) -> NDArray[np.int64]:
        """Return the columns of a check that take no more than the ``slack`` (rows,)."""
        columns = self.columns_of(check)
        return columns[self.fits(columns, slack)]

    def holds(self, chosen: Choice) -> bool:
        """Return whether a choice keeps every row."""
        return bool((self.taken(chosen) <= self.capacity + TINY).all())

    def days_past(self, chosen: Choice) -> int:
        """Return goal 1 of a choice: a column a check, -1 for none."""
        placed = chosen >= 0
        past = self.past[chosen[placed]].sum() + self.unplaced_past[~placed].sum()
        return self.settled_past + int(past)

    def load(self, chosen: Choice) -> NDArray[np.float64]:
        """Return the man-hours asked in each cell, with the limits where they are levelled."""
        courses = self.course[chosen[chosen >= 0]]
        return self.asked + self.man_hours[courses].sum(axis=0)

    def cost(self, chosen: Choice) -> tuple[int, float]:
        """Return days past ``Latest in`` and money of a choice, the two goals in turn."""
        money = self.dates_money(chosen) + self.hours.money(self.load(chosen))
        return self.days_past(chosen), money

    def dates_money(self, chosen: Choice) -> float:
        """Return the money of a choice but for its man-hours."""
        return self.settled_money + float(self.money[chosen[chosen >= 0]].sum())

    def cost_beside(self, chosen: Choice, columns: NDArray[np.int64]) -> NDArray[np.float64]:
        """Return the money of a choice with each of some ``columns`` of a check that it leaves out.

        Shape (columns,).
        """
        load = self.load(chosen)
        dates = self.dates_money(chosen) + self.money[columns]
        money: NDArray[np.float64] = dates + self._labour(load, columns)
        return money

    def added_beside(self, chosen: Choice, columns: NDArray[np.int64]) -> NDArray[np.float64]:
        """Return the same without the money of the others, for comparing; shape (columns,).

        Where hours are levelled those of the column count evenly here, beside all others levelled:
        a guide, for levelling anew with each column takes too long where many are compared.
        """
        load, hours = self.load(chosen), self.hours
        if not hours.are_levelled:
            added: NDArray[np.float64] = self.money[columns] + self._labour(load, columns)
            return added
        asked = hours.asked(load).ravel()
        own = self.man_hours[:, : hours.cells][self.course[columns]].toarray()
        labour = np.array([hours.even_money(asked + one) for one in own])
        guide: NDArray[np.float64] = self.money[columns] + labour
        return guide

    def _labour(self, load: NDArray[np.float64], columns: NDArray[np.int64]) -> NDArray[np.float64]:
        """Return what a ``load`` (cells,) costs with the man-hours of each column, (columns,)."""
        courses, inverse = np.unique(self.course[columns], return_inverse=True)
        rows = (self.man_hours[[course]].toarray().ravel() for course in courses)
        labour = np.array([self.hours.money(load + own) for own in rows])
        beside: NDArray[np.float64] = labour[inverse.ravel()]
        return beside


@dataclass(frozen=True)
class Restricted:
    """A program over fewer columns, with ``number`` (columns,) theirs in the whole one.

    Its costs are those of the whole: the restricted master of column generation.

    ``stand_in`` (columns of the whole,) is the column, in the whole's numbers, that a choice
    has here in place of each; None when every column stands for itself.
    """

    program: Program
    number: NDArray[np.int64]
    stand_in: NDArray[np.int64] | None = None

    def then(self, fewer: "Restricted") -> "Restricted":
        """Return what is kept of the whole when ``fewer`` columns of this program are kept."""
        return replace(self, program=fewer.program, number=self.number[fewer.number])

    def to_whole(self, chosen: Choice) -> Choice:
        """Return a choice in the numbers of the whole program."""
        whole = np.full_like(chosen, -1)
        whole[chosen >= 0] = self.number[chosen[chosen >= 0]]
        return whole

    def from_whole(self, chosen: Choice) -> Choice | None:
        """Return a choice in this program's numbers; None when one of its columns is gone."""
        placed = chosen[chosen >= 0]
        if self.stand_in is not None:
            placed = self.stand_in[placed]
        if not np.isin(placed, self.number).all():
            return None
        mine = np.full_like(chosen, -1)
        mine[chosen >= 0] = np.searchsorted(self.number, placed)
        return mine

    def those_of(self, chosen: Choice) -> Choice:
        """Return a choice in this program's numbers, -1 for each column that is gone."""
        here = np.isin(chosen, self.number)
        return np.where(here, np.searchsorted(self.number, chosen), -1)

    def found_here(self, chosen: Choice) -> Choice:
        """Return a choice in this program's numbers; raises ``ValueError`` if it is not in it."""
        mine = self.from_whole(chosen)
        if mine is None:
            raise ValueError("the choice has columns that are not kept")
        return mine


def most_taken(footprint: csr_array, check_of: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return the most that a column of each check takes of each row, added up, (rows,)."""
    rows = footprint.shape[1]
    entries = footprint.tocoo()
    pair = check_of[entries.row] * rows + entries.col
    order = np.argsort(pair, kind="stable")
    pair, taken = pair[order], entries.data[order]
    first = np.flatnonzero(np.diff(pair, prepend=-1))
    if not len(first):
        return np.zeros(rows)
    most = np.maximum.reduceat(taken, first)
    in_all = np.zeros(rows)
    np.add.at(in_all, pair[first] % rows, most)
    return in_all


def build_program(slots: Slots, base: Base, supply: Supply, heed: Heed = nobody_stops) -> Program:
    """Return the program of all movable checks over the hours the fixed ones leave.

    ``heed`` is called between the families of rules and may raise.

    Raises
    ------
    TooLargeError
        When there are more columns than can be looked at together.
    """
    columns = columns_of(slots)
    if (size := len(columns.check)) > MOST_COLUMNS:
        raise TooLargeError(
            f"{size:,} slots for {len(slots.candidates):,} checks are more than can be looked at "
            f"together: they would take some {size * BYTES_A_COLUMN / 2**30:,.0f} GiB of memory, "
            f"and {MOST_COLUMNS:,} are the most. Ask of fewer weeks, or hangar by hangar."
        )
    packings = [packing for _, packing in packing_families()]
    families = []
    for packing in packings:
        heed()
        families.append(packing.rows(columns, base))
    heed()
    rows = stacked(families, len(columns.check))
    lazy = [
        np.full(len(family.capacity), packing.lazy)
        for packing, family in zip(packings, families, strict=True)
    ]
    counts = [len(candidates.course) for candidates in slots.candidates]
    return Program(
        checks=tuple(c.courses.check.name for c in slots.candidates),
        first_column=np.cumsum([0, *counts]),
        unplaced_past=np.array(
            [unplaced_past_of(c.courses.check, base) for c in slots.candidates], dtype=np.int64
        ),
        course=columns.course,
        past=columns.past,
        money=columns.money,
        place=_places(slots, base),
        in_day=columns.in_day,
        footprint=rows.matrix.T.tocsr(),
        capacity=rows.capacity,
        row_names=rows.names,
        lazy=np.concatenate(lazy),
        man_hours=columns.man_hours,
        asked=settled_hours(slots, supply.regular.size),
        hours=hours_of(supply, strands_of(slots)),
        settled_past=sum(int(courses.past[0]) for courses in slots.settled),
        settled_money=guaranteed_money(base)
        + sum(float(courses.money[0]) for courses in slots.settled),
    )


def unplaced_past_of(check: Check, base: Base) -> int:
    """Return the days past ``Latest in`` that a check without a slot counts."""
    longest = base.longest_delay_days + 1
    match check.status:
        case Status.OPTION:
            return 0
        case Status.BOOKED:
            return longest
        case Status.FIXED:
            # More than all others together: a fixed check is never given up for them.
            return longest * (len(base.checks) + 1)


def _places(slots: Slots, base: Base) -> NDArray[np.int64]:
    """Return the place of each column, (columns,): the first bay and those tied to it."""
    numbers = tied_together(base)
    place = np.array([numbers[group.bays[0]] for group in slots.groups], dtype=np.int64)
    first = [candidates.groups[:, 0] for candidates in slots.candidates]
    column: NDArray[np.int64] = np.concatenate([np.empty(0, dtype=np.int64), *first])
    numbers_of_columns: NDArray[np.int64] = place[column]
    return numbers_of_columns
