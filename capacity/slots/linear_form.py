"""The program as a mixed-integer linear one in standard form, for the MIP engines."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, csr_array, eye_array, hstack, vstack

from capacity.slots.program import Program


@dataclass(frozen=True)
class LinearForm:
    """Minimise ``cost @ y + offset`` with ``row_lower <= matrix @ y <= row_upper``.

    ``y`` holds the program's columns (0 or 1), then one entry a check left out (0 or 1),
    then hours bought by tier and cell; it lies between 0 and ``upper``. ``cells`` are those
    in which hours may have to be bought.
    """

    program: Program
    cost: NDArray[np.float64]
    upper: NDArray[np.float64]
    matrix: csc_array
    row_lower: NDArray[np.float64]
    row_upper: NDArray[np.float64]
    cells: NDArray[np.int64]
    offset: float

    @property
    def integers(self) -> int:
        """Return how many of the first entries are 0 or 1."""
        return self.program.size + len(self.program.checks)

    def entries_of(self, chosen: NDArray[np.int64]) -> NDArray[np.float64]:
        """Return ``y`` for a choice: a column a check, -1 for none."""
        program = self.program
        columns = np.zeros(program.size)
        columns[chosen[chosen >= 0]] = 1.0
        bought = program.bought(program.load(chosen))[:, self.cells]
        return np.concatenate([columns, (chosen < 0).astype(np.float64), bought.ravel()])

    def chosen_of(self, entries: NDArray[np.float64]) -> NDArray[np.int64]:
        """Return the choice that integral entries stand for."""
        program = self.program
        chosen = np.full(len(program.checks), -1, dtype=np.int64)
        taken = np.flatnonzero(entries[: program.size] > 0.5)
        chosen[program.check_of[taken]] = taken
        return chosen


def money_form(program: Program) -> LinearForm:
    """Return the program with money as its cost and days past within ``days_allowed``."""
    cells = telling_cells(program)
    beside = np.setdiff1d(np.arange(len(program.regular)), cells)
    settled = np.zeros(len(program.regular))
    settled[beside] = program.asked[beside]
    return _form(
        program,
        cells,
        column_cost=program.money,
        unplaced_cost=np.zeros(len(program.checks)),
        offset=program.settled_money + program.labour_money(settled),
    )


def days_form(program: Program) -> LinearForm:
    """Return the program with days past ``Latest in`` as its cost; hours play no part."""
    return _form(
        program,
        np.empty(0, dtype=np.int64),
        column_cost=program.past.astype(np.float64),
        unplaced_cost=program.unplaced_past.astype(np.float64),
        offset=float(program.settled_past),
    )


def telling_cells(program: Program) -> NDArray[np.int64]:
    """Return the cells in which the checks together could ask more than the regular hours."""
    most = program.most_asked.sum(axis=0)
    return np.flatnonzero((most > 0) & (program.asked + most > program.regular))


def _form(
    program: Program,
    cells: NDArray[np.int64],
    *,
    column_cost: NDArray[np.float64],
    unplaced_cost: NDArray[np.float64],
    offset: float,
) -> LinearForm:
    checks, rows, tiers = len(program.checks), len(program.capacity), len(program.tier_costs)
    column = np.arange(program.size)
    one_slot = csr_array(
        (np.ones(program.size), (program.check_of, column)), shape=(checks, program.size)
    )
    asks = program.man_hours[program.course][:, cells].T
    buys = hstack([eye_array(len(cells))] * tiers)
    past = csr_array(program.past[None, :].astype(np.float64))
    unplaced_past = csr_array(program.unplaced_past[None, :].astype(np.float64))
    bought = tiers * len(cells)
    days = np.inf if program.days_allowed is None else program.days_allowed - program.settled_past
    blocks = [
        # one slot: the columns of a check and its being left out add up to 1
        hstack([one_slot, eye_array(checks), csr_array((checks, bought))]),
        # rows: what the chosen columns take is at most what there is
        hstack([program.footprint.T, csr_array((rows, checks)), csr_array((rows, bought))]),
        # man-hours: asked - bought <= regular
        hstack([asks, csr_array((len(cells), checks)), -buys]),
        # days past Latest in
        hstack([past, unplaced_past, csr_array((1, bought))]),
    ]
    spare = program.regular[cells] - program.asked[cells]
    return LinearForm(
        program=program,
        cost=np.concatenate([column_cost, unplaced_cost, program.tier_costs[:, cells].ravel()]),
        upper=np.concatenate(
            [np.ones(program.size + checks), program.tier_widths[:, cells].ravel()]
        ),
        matrix=csc_array(vstack(blocks)),
        row_lower=np.concatenate([np.ones(checks), np.full(rows + len(cells) + 1, -np.inf)]),
        row_upper=np.concatenate([np.ones(checks), program.capacity, spare, [days]]),
        cells=cells,
        offset=offset,
    )
