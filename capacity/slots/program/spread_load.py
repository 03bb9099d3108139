"""The cheapest way to level a load when each skill of each stage is levelled by itself.

The limits of all stages together (``levelled_load.py``) allow a little more, where stages lie in
three weeks or more: this is what a choice costs. Of spreads that cost the same, the one that moves
the fewest hours away from the even one is taken.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_array, hstack, vstack

from capacity.errors import EngineError
from capacity.labour.supply import Floats, Supply
from capacity.slots.program.arcs import arcs_into
from capacity.slots.program.strands import Strand

TINY = 1e-12
# What moving an hour counts for, in money: far less than any two prices differ by.
MOVING = 1e-4


@dataclass(frozen=True)
class Spread:
    """A load levelled: the ``hours`` of each strand, in the order of its cells.

    ``asked`` (cells,) is what is asked of each cell then.
    """

    strands: tuple[Strand, ...]
    hours: tuple[Floats, ...]
    asked: Floats


def spread_out(strands: Sequence[Strand], load: Floats, supply: Supply) -> Spread:
    """Level a ``load`` (cells,) in which all ``strands`` lie evenly.

    Minimise the price of what is bought, and ``MOVING`` times what lies otherwise than evenly.
    """
    hours = _levelled(strands, load, supply)
    asked = load.copy()
    for strand, mine in zip(strands, hours, strict=True):
        np.add.at(asked, strand.cell, mine - strand.even)
    return Spread(tuple(strands), tuple(hours), asked)


def _levelled(strands: Sequence[Strand], load: Floats, supply: Supply) -> list[Floats]:
    """Return the hours of each strand."""
    hours = [strand.even.copy() for strand in strands]
    could = load.copy()
    for strand in strands:
        np.add.at(could, strand.cell, strand.most - strand.even)
    over = could > supply.regular.ravel() + TINY
    moving = [n for n, s in enumerate(strands) if len(s.cell) > 1 and over[s.cell].any()]
    if not moving:
        return hours
    cell = np.concatenate([strands[n].cell for n in moving])
    even = np.concatenate([strands[n].even for n in moving])
    most = np.concatenate([strands[n].most for n in moving])
    of = np.repeat(np.arange(len(moving)), [len(strands[n].cell) for n in moving])
    cells = np.flatnonzero(over)
    arcs = arcs_into(cells, supply)
    # Variables: hours moved into a week, hours moved out of it, hours bought.
    parts, bought = len(cell), len(arcs.pool)
    row_of = np.full(len(load), -1)
    row_of[cells] = np.arange(len(cells))
    told = np.flatnonzero(row_of[cell] >= 0)
    into = csr_array((np.ones(len(told)), (row_of[cell[told]], told)), shape=(len(cells), parts))
    buys = csr_array(
        (np.ones(bought), (row_of[arcs.cell], np.arange(bought))), shape=(len(cells), bought)
    )
    shared = np.flatnonzero(arcs.common >= 0)
    draws = csr_array(
        (np.ones(len(shared)), (arcs.common[shared], 2 * parts + shared)),
        shape=(len(arcs.common_limit), 2 * parts + bought),
    )
    sums = csr_array((np.ones(parts), (of, np.arange(parts))), shape=(len(moving), parts))
    solved = linprog(  # type: ignore[call-overload]  # its stubs know no sparse matrices
        np.concatenate([np.full(2 * parts, MOVING), arcs.price]),
        A_ub=vstack([hstack([into, -into, -buys]), draws]),
        b_ub=np.concatenate([(supply.regular.ravel() - load)[cells], arcs.common_limit]),
        A_eq=hstack([sums, -sums, csr_array((len(moving), bought))]),
        b_eq=np.zeros(len(moving)),
        bounds=np.column_stack(
            [np.zeros(2 * parts + bought), np.concatenate([most - even, even, arcs.limit])]
        ),
        method="highs",
    )
    if solved.x is None:
        raise EngineError(f"man-hours could not be levelled: {solved.message}")
    moved = solved.x[:parts] - solved.x[parts : 2 * parts]
    for place, number in enumerate(moving):
        hours[number] = _tidied(strands[number], moved[of == place])
    return hours


def _tidied(strand: Strand, moved: Floats) -> Floats:
    """Return the hours with what a solver leaves open in its last digits put right."""
    hours = np.clip(strand.even + moved, 0.0, strand.most)
    lacking = strand.even.sum() - hours.sum()
    room = strand.most - hours if lacking > 0.0 else hours
    hours[np.argmax(room)] += lacking
    return hours
