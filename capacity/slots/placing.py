"""A choice under change, with every candidate of a check priced at once."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.slots.program import Program

ROOM = 1e-9


@dataclass(frozen=True)
class CheckColumns:
    """What pricing one check needs, ready for numpy.

    ``course`` (columns,) counts the check's own courses; their man-hours lie densely over
    a run of cells: ``cells`` and ``man_hours`` have shape (courses, width). Labour money
    rises by ``slopes`` for each hour beyond ``edges``, both (tiers, courses, width).
    ``foot_rows`` and ``foot_sizes`` are the columns' footprints one after the other, each
    from its entry of ``foot_starts`` on.
    """

    first: int
    course: NDArray[np.int64]
    money: NDArray[np.float64]
    cells: NDArray[np.int64]
    man_hours: NDArray[np.float64]
    edges: NDArray[np.float64]
    slopes: NDArray[np.float64]
    foot_rows: NDArray[np.int64]
    foot_sizes: NDArray[np.float64]
    foot_starts: NDArray[np.int64]


class Placing:
    """A choice under change: what is taken of each row and asked in each cell."""

    def __init__(self, program: Program, day_money: float) -> None:
        """Begin with nothing placed; a day past ``Latest in`` counts ``day_money``."""
        self.program = program
        edges, slopes = _rising_cost(program)
        self.columns = [
            _check_columns(program, number, day_money, edges, slopes)
            for number in range(len(program.checks))
        ]
        self.unplaced_money = program.unplaced_past * day_money
        self.chosen = np.full(len(program.checks), -1, dtype=np.int64)
        self.free = program.capacity.copy()
        self.load = program.asked.copy()
        self._own = self.unplaced_money.astype(np.float64)
        self._edges, self._slopes = edges, slopes

    @property
    def value(self) -> float:
        """Return the whole cost of the choice, days past ``Latest in`` as money."""
        beyond = np.maximum(self.load - self._edges, 0.0)
        return float(self._own.sum() + np.vdot(beyond, self._slopes))

    def take_out(self, check: int) -> None:
        """Free what the check holds."""
        if self.chosen[check] >= 0:
            self._apply(check, int(self.chosen[check]), -1.0)
            self.chosen[check] = -1
            self._own[check] = self.unplaced_money[check]

    def put_in(self, check: int, column: int) -> None:
        """Place a check that is out in the column of the program."""
        self._apply(check, column, 1.0)
        self.chosen[check] = column
        mine = self.columns[check]
        self._own[check] = mine.money[column - mine.first]

    def prices(self, check: int) -> NDArray[np.float64]:
        """Return what each of the check's columns would add now; inf where it cannot stand."""
        mine = self.columns[check]
        load = self.load[mine.cells]
        beyond = load - mine.edges
        rise = np.maximum(beyond + mine.man_hours, 0.0) - np.maximum(beyond, 0.0)
        labour = np.einsum("kcw,kcw->c", mine.slopes, rise)
        price = mine.money + labour[mine.course]
        blocked = mine.foot_sizes > self.free[mine.foot_rows] + ROOM
        price[np.logical_or.reduceat(blocked, mine.foot_starts)] = np.inf
        return price

    def cheapest(self, check: int, blur: NDArray[np.float64] | None = None) -> tuple[int, float]:
        """Return the cheapest column of the program (-1: leave it out) and its price."""
        out = float(self.unplaced_money[check])
        mine = self.columns[check]
        if not len(mine.money):
            return -1, out
        price = self.prices(check)
        best = int(np.argmin(price if blur is None else price + blur))
        return (mine.first + best, float(price[best])) if price[best] < out else (-1, out)

    def _apply(self, check: int, column: int, sign: float) -> None:
        program, mine = self.program, self.columns[check]
        start, end = program.footprint.indptr[column : column + 2]
        self.free[program.footprint.indices[start:end]] -= sign * program.footprint.data[start:end]
        course = mine.course[column - mine.first]
        self.load[mine.cells[course]] += sign * mine.man_hours[course]


def _rising_cost(program: Program) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return where labour money bends upwards in each cell, and by how much a man-hour."""
    below_last = np.cumsum(program.tier_widths[:-1], axis=0)
    edges = program.regular + np.concatenate([np.zeros((1, len(program.regular))), below_last])
    return edges, np.diff(program.tier_costs, axis=0, prepend=0.0)


def _check_columns(
    program: Program,
    number: int,
    day_money: float,
    edges: NDArray[np.float64],
    slopes: NDArray[np.float64],
) -> CheckColumns:
    first, until = program.first_column[number : number + 2]
    courses, course = np.unique(program.course[first:until], return_inverse=True)
    asked = program.man_hours[courses].toarray()
    starts = np.array([np.flatnonzero(row)[0] if row.any() else 0 for row in asked], dtype=np.int64)
    ends = np.array(
        [np.flatnonzero(row)[-1] + 1 if row.any() else 0 for row in asked], dtype=np.int64
    )
    width = int((ends - starts).max(initial=0))
    starts = np.minimum(starts, asked.shape[1] - width)
    cells = starts[:, None] + np.arange(width)
    foot = program.footprint[np.arange(first, until)]
    return CheckColumns(
        first=int(first),
        course=course,
        money=program.money[first:until] + day_money * program.past[first:until],
        cells=cells,
        man_hours=np.take_along_axis(asked, cells, axis=1),
        edges=edges[:, cells],
        slopes=slopes[:, cells],
        foot_rows=foot.indices.astype(np.int64),
        foot_sizes=foot.data,
        foot_starts=foot.indptr[:-1].astype(np.int64),
    )
