"""The cheapest way to level a load when each skill of each stage is levelled by itself.

The limits of all stages together (``levelled_load.py``) allow a little more, where stages lie in
three weeks or more: this is what a choice costs. Of spreads that cost the same, the one that moves
the fewest hours away from the even one is taken.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array, hstack, vstack

from capacity.errors import EngineError
from capacity.labour.supply import Floats, Supply
from capacity.slots.program.arcs import arcs_into
from capacity.slots.program.strands import Strand

Ints = NDArray[np.int64]
TINY = 1e-12
# What moving an hour counts for, in money: far less than any two prices differ by.
MOVING = 1e-4


@dataclass(frozen=True)
class Spread:
    """A load levelled: ``asked`` (cells,) is what is asked of each cell then.

    ``moved`` are the hours that each of the ``bundles`` of ``strands`` moves into its cells.
    ``price`` (cells,) is what an hour more in each cell would cost.
    """

    strands: Sequence[Strand]
    asked: Floats
    bundles: Sequence["_Bundle"]
    moved: Sequence[Floats]
    price: Floats

    def hours(self) -> list[Floats]:
        """Return the hours of each strand, in the order of its cells."""
        hours = [strand.even.copy() for strand in self.strands]
        for bundle, of_bundle in zip(self.bundles, self.moved, strict=True):
            for number, mine in _shared(bundle, of_bundle, self.strands):
                hours[number] = _tidied(self.strands[number], mine)
        return hours


@dataclass(frozen=True)
class _Bundle:
    """Strands that are levelled as one: ``members`` are their numbers; (n,) each of the others."""

    members: tuple[int, ...]
    cell: Ints
    even: Floats
    most: Floats


def _bundles(strands: Sequence[Strand], over: list[bool]) -> list[_Bundle]:
    """Return what can move between cells that could be beyond their regular hours.

    Strands in the same two cells are one: what moves from one to the other lies between bounds,
    and those of several add up. Each other strand is a bundle of its own.
    """
    alike: defaultdict[tuple[int, ...], list[int]] = defaultdict(list)
    for number, strand in enumerate(strands):
        cells = tuple(strand.cell.tolist())
        if len(cells) > 1 and any(over[cell] for cell in cells):
            alike[cells if len(cells) == 2 else (*cells, number)].append(number)
    return [
        _Bundle(
            tuple(members),
            strands[members[0]].cell,
            np.sum([strands[n].even for n in members], axis=0),
            np.sum([strands[n].most for n in members], axis=0),
        )
        for members in alike.values()
    ]


def _shared(
    bundle: _Bundle, moved: Floats, strands: Sequence[Strand]
) -> Iterator[tuple[int, Floats]]:
    """Share what a bundle moves among its strands, as each has room for it."""
    if len(bundle.members) == 1:
        yield bundle.members[0], moved
        return
    into = int(moved[1] > 0.0)
    room = np.array([strands[n].most[into] - strands[n].even[into] for n in bundle.members])
    shares = room / max(float(room.sum()), TINY)
    for number, share in zip(bundle.members, shares, strict=True):
        yield number, moved * share


def spread_out(strands: Sequence[Strand], load: Floats, supply: Supply) -> Spread:
    """Level a ``load`` (cells,) in which all ``strands`` lie evenly.

    Minimise the price of what is bought, and ``MOVING`` times what lies otherwise than evenly.
    """
    could = load.copy()
    if strands:
        more = np.concatenate([strand.most - strand.even for strand in strands])
        np.add.at(could, np.concatenate([strand.cell for strand in strands]), more)
    over = could > supply.regular.ravel() + TINY
    moving = _bundles(strands, over.tolist())
    if not moving:
        return Spread(strands, load, (), (), np.zeros(len(load)))
    cell = np.concatenate([bundle.cell for bundle in moving])
    even = np.concatenate([bundle.even for bundle in moving])
    most = np.concatenate([bundle.most for bundle in moving])
    of = np.repeat(np.arange(len(moving)), [len(bundle.cell) for bundle in moving])
    cells = np.flatnonzero(over)
    arcs = arcs_into(cells, supply)
    # Variables: hours moved into a week, hours moved out of it, hours bought.
    parts, bought = len(cell), len(arcs.pool)
    row_of = np.full(len(load), -1)
    row_of[cells] = np.arange(len(cells))
    told = np.flatnonzero(row_of[cell] >= 0)
    into = csr_array((np.ones(len(told)), (row_of[cell[told]], told)), shape=(len(cells), parts))
    no_moves = csr_array((len(arcs.common_limit), 2 * parts))
    sums = csr_array((np.ones(parts), (of, np.arange(parts))), shape=(len(moving), parts))
    # Here, since a side of the search starts sooner without.
    from scipy.optimize import linprog

    solved = linprog(  # type: ignore[call-overload]  # its stubs know no sparse matrices
        np.concatenate([np.full(2 * parts, MOVING), arcs.price]),
        A_ub=vstack([hstack([into, -into, -arcs.gives()]), hstack([no_moves, arcs.draws()])]),
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
    ends = np.cumsum([len(bundle.cell) for bundle in moving])[:-1]
    asked = load.copy()
    np.add.at(asked, cell, moved)
    price = np.zeros(len(load))
    price[cells] = -solved.ineqlin.marginals[: len(cells)]
    return Spread(strands, asked, moving, np.split(moved, ends), price)


def _tidied(strand: Strand, moved: Floats) -> Floats:
    """Return the hours with what a solver leaves open in its last digits put right."""
    hours = np.clip(strand.even + moved, 0.0, strand.most)
    lacking = strand.even.sum() - hours.sum()
    room = strand.most - hours if lacking > 0.0 else hours
    hours[np.argmax(room)] += lacking
    return hours
