"""The program as a mixed-integer linear one in standard form, for the MIP engines."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, csr_array, eye_array, hstack, vstack

from capacity.slots.program import Program


@dataclass(frozen=True)
class LinearForm:
    """Minimise ``cost @ y + offset`` with ``row_lower <= matrix @ y <= row_upper``.

    ``y`` holds the program's columns (0 or 1), then one entry a check left out, then hours
    bought by tier and cell; ``upper`` bounds it, 0 from below. ``cells`` are those in which
    hours may have to be bought.
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
        """Return how many of the first entries are 0 or 1: columns and checks left out."""
        return self.program.size + len(self.program.checks)

    def entries_of(self, chosen: NDArray[np.int64]) -> NDArray[np.float64]:
        """Return ``y`` for a choice: a column a check, -1 for none."""
        program = self.program
        columns = np.zeros(program.size)
        columns[chosen[chosen >= 0]] = 1.0
        excess = np.maximum(program.load(chosen) - program.regular, 0.0)[self.cells]
        tiers = []
        for width in program.tier_widths[:, self.cells]:
            tiers.append(np.minimum(excess, width))
            excess = excess - tiers[-1]
        return np.concatenate([columns, (chosen < 0).astype(np.float64), *tiers])

    def chosen_of(self, entries: NDArray[np.float64]) -> NDArray[np.int64]:
        """Return the choice that integral entries stand for."""
        program = self.program
        chosen = np.full(len(program.checks), -1, dtype=np.int64)
        taken = np.flatnonzero(entries[: program.size] > 0.5)
        chosen[program.check_of[taken]] = taken
        return chosen


def money_form(program: Program) -> LinearForm:
    """Return the program with money as its cost, days past bounded by ``days_allowed``."""
    return _form(program, _telling_cells(program), days_cost=False)


def days_form(program: Program) -> LinearForm:
    """Return the program with days past ``Latest in`` as its cost; man-hours play no part."""
    return _form(program, np.empty(0, dtype=np.int64), days_cost=True)


def _telling_cells(program: Program) -> NDArray[np.int64]:
    """Return the cells in which the checks together could ask more than the regular hours."""
    most = np.zeros(len(program.regular))
    for first, until in zip(program.first_column[:-1], program.first_column[1:], strict=True):
        if until > first:
            most += program.man_hours[program.course[first:until]].max(axis=0).toarray().ravel()
    return np.flatnonzero((most > 0) & (program.asked + most > program.regular))


def _form(program: Program, cells: NDArray[np.int64], *, days_cost: bool) -> LinearForm:
    size, checks = program.size, len(program.checks)
    tiers = len(program.tier_costs)
    one_slot = csr_array((np.ones(size), (program.check_of, np.arange(size))), shape=(checks, size))
    asks = program.man_hours[program.course][:, cells].T
    buys = hstack([-eye_array(len(cells))] * tiers)
    blocks = [
        [one_slot, eye_array(checks), None],
        [program.footprint.T, None, None],
        [asks, None, buys],
    ]
    lower = [np.ones(checks), np.full(len(program.capacity), -np.inf)]
    upper = [np.ones(checks), program.capacity]
    lower.append(np.full(len(cells), -np.inf))
    upper.append(program.regular[cells] - program.asked[cells])
    if program.days_allowed is not None and not days_cost:
        past = csr_array(program.past[None, :].astype(np.float64))
        unplaced = csr_array(program.unplaced_past[None, :].astype(np.float64))
        blocks.append([past, unplaced, None])
        lower.append(np.array([-np.inf]))
        upper.append(np.array([float(program.days_allowed)]))
    bought = program.tier_costs[:, cells].ravel()
    if days_cost:
        cost = np.concatenate([program.past, program.unplaced_past, bought])
        offset = 0.0
    else:
        cost = np.concatenate([program.money, np.zeros(checks), bought])
        elsewhere = np.minimum(program.asked, program.regular)
        elsewhere = np.where(np.isin(np.arange(len(elsewhere)), cells), elsewhere, program.asked)
        offset = program.labour_money(elsewhere)
    widths = program.tier_widths[:, cells].ravel()
    return LinearForm(
        program=program,
        cost=cost.astype(np.float64),
        upper=np.concatenate([np.ones(size + checks), widths]),
        matrix=vstack(
            [hstack(_filled(row, (size, checks, tiers * len(cells)))) for row in blocks]
        ).tocsc(),
        row_lower=np.concatenate(lower),
        row_upper=np.concatenate(upper),
        cells=cells,
        offset=offset,
    )


def _filled(row: list[object], widths: tuple[int, ...]) -> list[object]:
    height = next(block.shape[0] for block in row if block is not None)
    return [
        csr_array((height, width)) if block is None else block
        for block, width in zip(row, widths, strict=True)
    ]
