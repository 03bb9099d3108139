"""The cheapest way to level a load of man-hours within the limits of those who ask for it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array, hstack, vstack

from capacity.errors import EngineError
from capacity.labour.supply import Floats, Supply
from capacity.slots.candidates import EARLIER, LATER, LESS, LESS_OF_TWO, LIMITS, MORE, MORE_OF_TWO
from capacity.slots.program.arcs import arcs_into

Ints = NDArray[np.int64]
TINY = 1e-9


@dataclass(frozen=True)
class Levelled:
    """A load levelled: ``put_off`` (weeks, kinds) hours across the end of each week.

    They are negative where hours are brought forward. ``bought`` are the hours of the arcs into
    the cells ``bought_in`` from the pools ``bought_of``, (arcs,) each; ``money`` is what they cost.
    """

    put_off: Floats
    bought: Floats
    bought_in: Ints
    bought_of: Ints
    money: float


@dataclass(frozen=True)
class FlowRows:
    """Rows that bound what flows into and out of weeks: ``lower <= matrix @ f <= upper``.

    ``f`` holds the hours put off across the ``edges`` (flows,), each numbered as the cell of the
    week before it. ``matrix`` is (rows, flows); ``name`` (rows,) says which limits, counted as
    cells of the stacked limits, bound a row from above; there is no other bound.
    """

    edges: Ints
    matrix: csr_array
    name: Ints


def flow_rows(most: Floats, *, needed: Ints | None = None) -> FlowRows:
    """Return the rows over the limits (limits, weeks, kinds) that somebody has.

    ``needed`` are the rows, by name, that say more than the bounds of single flows; None for all
    that could.
    """
    _, weeks, kinds = most.shape
    cells = weeks * kinds
    is_edge = (most[LATER] + most[EARLIER] > TINY).ravel()
    edges = np.flatnonzero(is_edge)
    number = np.full(cells + 2 * kinds, -1)
    number[edges] = np.arange(len(edges))
    cell = np.arange(cells)
    before = np.where(cell >= kinds, number[cell - kinds], -1)
    here, next_one = number[cell], number[cell + kinds]
    rows: list[Ints] = []
    columns: list[Ints] = []
    signs: list[Floats] = []
    names: list[int] = []

    def add(into: Ints, out_of: Ints, limit: int, wanted: NDArray[np.bool_]) -> None:
        """Bound what flows ``into`` some weeks less what flows ``out_of`` them."""
        mine = np.flatnonzero(wanted)
        if needed is not None:
            mine = mine[np.isin(limit * cells + mine, needed)]
        start = len(names)
        for flows, sign in ((into, 1.0), (out_of, -1.0)):
            there = np.flatnonzero(flows[mine] >= 0)
            rows.append(there + start)
            columns.append(flows[mine][there])
            signs.append(np.full(len(there), sign))
        names.extend(limit * cells + mine)

    both = (before >= 0) & (here >= 0)
    add(before, here, MORE, both)
    add(here, before, LESS, both)
    wide = (before >= 0) & (next_one >= 0)
    add(before, next_one, MORE_OF_TWO, wide)
    add(next_one, before, LESS_OF_TWO, wide)
    matrix = csr_array(
        (
            np.concatenate(signs),
            (np.concatenate(rows).astype(np.int64), np.concatenate(columns).astype(np.int64)),
        ),
        shape=(len(names), len(edges)),
    )
    return FlowRows(edges, matrix, np.array(names, dtype=np.int64))


def into_weeks(edges: Ints, cells: int, kinds: int) -> csr_array:
    """Return what a flow across each of the ``edges`` adds to each cell, (cells, flows)."""
    flows = np.arange(len(edges))
    arrives = edges + kinds
    stays = np.flatnonzero(arrives < cells)
    return csr_array(
        (
            np.concatenate([-np.ones(len(edges)), np.ones(len(stays))]),
            (np.concatenate([edges, arrives[stays]]), np.concatenate([flows, flows[stays]])),
        ),
        shape=(cells, len(edges)),
    )


def level(supply: Supply, even: Floats, limits: Floats) -> Levelled:
    """Return the cheapest load that can be had from an even one, (weeks, kinds).

    ``limits`` has shape (limits, weeks, kinds). Minimise the price of the hours bought, so that
    what is asked of each cell, less what is bought, is at most the regular hours::

        even[w] - f[w] + f[w - 1] - bought <= regular,  -earlier[w] <= f[w] <= later[w]

    and what a week takes in and gives away stays within its limits.
    """
    weeks, kinds = even.shape
    cells = even.size
    rows = flow_rows(limits)
    flows = len(rows.edges)
    could_ask = (even + np.maximum(limits[MORE], 0.0)).ravel()
    over = np.flatnonzero(could_ask > supply.regular.ravel() + TINY)
    arcs = arcs_into(over, supply)
    bought = len(arcs.pool)
    if not bought:
        nothing = np.empty(0, dtype=np.int64)
        return Levelled(np.zeros_like(even), np.empty(0), nothing, nothing, 0.0)
    shift = into_weeks(rows.edges, cells, kinds)[over]
    no_flow = csr_array((len(arcs.common_limit), flows))
    stacked = limits.reshape(LIMITS * cells)
    # Here, since a side of the search starts sooner without.
    from scipy.optimize import linprog

    solved = linprog(  # type: ignore[call-overload]  # its stubs know no sparse matrices
        np.concatenate([np.zeros(flows), arcs.price]),
        A_ub=vstack(
            [
                hstack([shift, -arcs.gives()]),
                hstack([rows.matrix, csr_array((len(rows.name), bought))]),
                hstack([no_flow, arcs.draws()]),
            ]
        ),
        b_ub=np.concatenate(
            [
                (supply.regular - even).ravel()[over],
                stacked[rows.name],
                arcs.common_limit,
            ]
        ),
        bounds=np.column_stack(
            [
                np.concatenate([-limits[EARLIER].ravel()[rows.edges], np.zeros(bought)]),
                np.concatenate([limits[LATER].ravel()[rows.edges], arcs.limit]),
            ]
        ),
        method="highs",
    )
    if solved.x is None:
        raise EngineError(f"man-hours could not be levelled: {solved.message}")
    put_off = np.zeros(cells)
    put_off[rows.edges] = solved.x[:flows]
    return Levelled(
        put_off=put_off.reshape(weeks, kinds),
        bought=solved.x[flows:],
        bought_in=arcs.cell,
        bought_of=arcs.pool,
        money=float(solved.fun),
    )
