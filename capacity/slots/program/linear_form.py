"""The program as a mixed-integer linear one in standard form, for the MIP engines."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, csr_array, eye_array, hstack, vstack

from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program


@dataclass(frozen=True)
class Arcs:
    """Where hours beyond the regular ones may go: from a pool into a cell, (arcs,) each.

    ``room`` is what the pool has in the cell's week. ``common`` numbers the arcs that share
    a pool and week with others, -1 for an arc that has them to itself; ``common_room`` is
    the room of each number.
    """

    cells: NDArray[np.int64]
    pool: NDArray[np.int64]
    cell: NDArray[np.int64]
    price: NDArray[np.float64]
    room: NDArray[np.float64]
    common: NDArray[np.int64]
    common_room: NDArray[np.float64]


@dataclass(frozen=True)
class LinearForm:
    """Minimise ``cost @ y + offset`` with ``row_lower <= matrix @ y <= row_upper``.

    ``y`` holds the program's columns (0 or 1), then one entry a check left out (0 or 1),
    then the hours of each of the ``arcs``; it lies between 0 and ``upper``.
    """

    program: Program
    cost: NDArray[np.float64]
    upper: NDArray[np.float64]
    matrix: csc_array
    row_lower: NDArray[np.float64]
    row_upper: NDArray[np.float64]
    arcs: Arcs
    offset: float

    @property
    def integers(self) -> int:
        """Return how many of the first entries are 0 or 1."""
        return self.program.size + len(self.program.checks)

    def entries_of(self, chosen: Choice) -> NDArray[np.float64]:
        """Return ``y`` for a choice: a column a check, -1 for none."""
        program = self.program
        columns = np.zeros(program.size)
        columns[chosen[chosen >= 0]] = 1.0
        left_out = (chosen < 0).astype(np.float64)
        if not len(self.arcs.pool):
            return np.concatenate([columns, left_out])
        bought = program.hours.bought(program.load(chosen))
        bought = bought.reshape(len(bought), -1)[self.arcs.pool, self.arcs.cell]
        return np.concatenate([columns, left_out, bought])

    def chosen_of(self, entries: NDArray[np.float64]) -> Choice:
        """Return the choice that integral entries stand for."""
        program = self.program
        chosen = np.full(len(program.checks), -1, dtype=np.int64)
        taken = np.flatnonzero(entries[: program.size] > 0.5)
        chosen[program.check_of[taken]] = taken
        return chosen


def money_form(program: Program) -> LinearForm:
    """Return the program with money as its cost and days past within ``days_allowed``."""
    cells = telling_cells(program)
    beside = np.setdiff1d(np.arange(len(program.asked)), cells)
    settled = np.zeros(len(program.asked))
    settled[beside] = program.asked[beside]
    return _form(
        program,
        arcs_into(cells, program),
        column_cost=program.money,
        unplaced_cost=np.zeros(len(program.checks)),
        offset=program.settled_money + program.hours.money(settled),
    )


def days_form(program: Program) -> LinearForm:
    """Return the program with days past ``Latest in`` as its cost; hours play no part."""
    return _form(
        program,
        arcs_into(np.empty(0, dtype=np.int64), program),
        column_cost=program.past.astype(np.float64),
        unplaced_cost=program.unplaced_past.astype(np.float64),
        offset=float(program.settled_past),
    )


def telling_cells(program: Program) -> NDArray[np.int64]:
    """Return the cells whose excess is not the same whatever is chosen.

    Those in which the checks together could ask more than the regular hours; and, since
    they draw on the same pools, those of shared kinds in which more is asked already.
    """
    most = program.most_asked.sum(axis=0)
    supply = program.hours.supply
    shared = np.tile(supply.is_shared, supply.weeks)
    over = program.asked + most > program.hours.regular
    return np.flatnonzero(over & ((most > 0) | shared))


def arcs_into(cells: NDArray[np.int64], program: Program) -> Arcs:
    """Return the arcs into the cells, pool by pool."""
    supply = program.hours.supply
    week, kind = np.divmod(cells, max(1, supply.kinds))
    pool, place = np.nonzero(supply.serves[:, kind])
    room = supply.pool_hours[pool, week[place]]
    key = pool * supply.weeks + week[place]
    _, first, number, count = np.unique(
        key, return_index=True, return_inverse=True, return_counts=True
    )
    together = (count > 1) & np.isfinite(room[first])
    renumbered = np.where(together, np.cumsum(together) - 1, -1)
    return Arcs(
        cells=cells,
        pool=pool,
        cell=cells[place],
        price=supply.pool_price[pool, kind[place]],
        room=room,
        common=renumbered[number],
        common_room=room[first][together],
    )


def _form(
    program: Program,
    arcs: Arcs,
    *,
    column_cost: NDArray[np.float64],
    unplaced_cost: NDArray[np.float64],
    offset: float,
) -> LinearForm:
    checks, rows, cells = len(program.checks), len(program.capacity), arcs.cells
    column, bought = np.arange(program.size), len(arcs.pool)
    one_slot = csr_array(
        (np.ones(program.size), (program.check_of, column)), shape=(checks, program.size)
    )
    asks = program.man_hours[program.course][:, cells].T
    buys = csr_array(
        (np.ones(bought), (np.searchsorted(cells, arcs.cell), np.arange(bought))),
        shape=(len(cells), bought),
    )
    shared = np.flatnonzero(arcs.common >= 0)
    draws = csr_array(
        (np.ones(len(shared)), (arcs.common[shared], shared)),
        shape=(len(arcs.common_room), bought),
    )
    past = csr_array(program.past[None, :].astype(np.float64))
    unplaced_past = csr_array(program.unplaced_past[None, :].astype(np.float64))
    days = np.inf if program.days_allowed is None else program.days_allowed - program.settled_past
    blocks = [
        # one slot: the columns of a check and its being left out add up to 1
        hstack([one_slot, eye_array(checks), csr_array((checks, bought))]),
        # rows: what the chosen columns take is at most what there is
        hstack([program.footprint.T, csr_array((rows, checks)), csr_array((rows, bought))]),
        # man-hours: asked - bought <= regular
        hstack([asks, csr_array((len(cells), checks)), -buys]),
        # pools that several kinds draw on: bought <= what there is in the week
        hstack([csr_array((len(arcs.common_room), program.size + checks)), draws]),
        # days past Latest in
        hstack([past, unplaced_past, csr_array((1, bought))]),
    ]
    spare = program.hours.regular[cells] - program.asked[cells]
    upper_rows = np.concatenate([program.capacity, spare, arcs.common_room, [days]])
    return LinearForm(
        program=program,
        cost=np.concatenate([column_cost, unplaced_cost, arcs.price]),
        upper=np.concatenate([np.ones(program.size + checks), arcs.room]),
        matrix=csc_array(vstack(blocks)),
        row_lower=np.concatenate([np.ones(checks), np.full(len(upper_rows), -np.inf)]),
        row_upper=np.concatenate([np.ones(checks), upper_rows]),
        arcs=arcs,
        offset=offset,
    )
