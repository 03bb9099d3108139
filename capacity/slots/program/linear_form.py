"""The program as a mixed-integer linear one in standard form, for the MIP engines."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, csr_array, eye_array, hstack, vstack

from capacity.slots.candidates import LIMITS, MORE
from capacity.slots.program.arcs import Arcs, arcs_into
from capacity.slots.program.choice import Choice
from capacity.slots.program.day_sets import day_sets_of
from capacity.slots.program.day_strands import DaySet
from capacity.slots.program.levelled_load import into_weeks
from capacity.slots.program.levelling_rows import Levelling, levelling_of
from capacity.slots.program.program import Program
from capacity.slots.program.strands import WeekSet


@dataclass(frozen=True)
class LinearForm:
    """Minimise ``cost @ y + offset`` with ``row_lower <= matrix @ y <= row_upper``.

    ``y`` holds the program's columns (0 or 1), then one entry a check left out (0 or 1),
    then the hours of each of the ``arcs``; it lies between 0 and ``upper``. Where hours are
    levelled, the hours put off across the end of some weeks come last, and then those brought
    forward across them: ``flows`` are the cells of those weeks. Rows of ``sets`` of weeks or days
    that were found broken are the last.
    """

    program: Program
    cost: NDArray[np.float64]
    upper: NDArray[np.float64]
    matrix: csc_array
    row_lower: NDArray[np.float64]
    row_upper: NDArray[np.float64]
    arcs: Arcs
    offset: float
    flows: NDArray[np.int64]
    sets: tuple[WeekSet | DaySet, ...] = ()

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
        if not len(self.arcs.pool):  # nothing can lack hours, wherever they lie
            return np.concatenate([columns, left_out, np.zeros(2 * len(self.flows))])
        load = program.load(chosen)
        if program.hours.are_levelled:
            if self.sets or program.hours.days is not None:
                asked = program.hours.asked(load)
                even = load[: program.hours.cells].reshape(asked.shape)
                put_off = np.cumsum(even - asked, axis=0).ravel()[self.flows]
                flows = [np.maximum(put_off, 0.0), np.maximum(-put_off, 0.0)]
                bought = program.hours.bought(load).reshape(-1, program.hours.cells)
                bought = bought[self.arcs.pool, self.arcs.cell]
                return np.concatenate([columns, left_out, bought, *flows])
            levelled = program.hours.levelled(load)
            hours = np.zeros((len(program.hours.supply.pool_names), program.hours.cells))
            hours[levelled.bought_of, levelled.bought_in] = levelled.bought
            put_off = levelled.put_off.ravel()[self.flows]
            flows = [np.maximum(put_off, 0.0), np.maximum(-put_off, 0.0)]
        else:
            hours, flows = program.hours.bought(load), []
        bought = hours.reshape(len(hours), -1)[self.arcs.pool, self.arcs.cell]
        return np.concatenate([columns, left_out, bought, *flows])

    def asked_by(self, entries: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return what entries ask of each cell, shape (cells,), once they are levelled."""
        program, count = self.program, len(self.flows)
        cells = program.hours.cells
        shares = np.bincount(
            program.course, entries[: program.size], minlength=program.man_hours.shape[0]
        )
        asked = program.asked[:cells] + shares @ program.man_hours[:, :cells]
        first = len(entries) - 2 * count
        put_off = entries[first : first + count] - entries[first + count :]
        shift = into_weeks(self.flows, cells, program.hours.supply.kinds)
        levelled: NDArray[np.float64] = asked + shift @ put_off
        return levelled

    def bought_by(self, entries: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return what is bought with entries, shape (pools, weeks, kinds)."""
        supply, first = self.program.hours.supply, self.integers
        bought = np.zeros((len(supply.pool_names), supply.weeks * supply.kinds))
        bought[self.arcs.pool, self.arcs.cell] = entries[first : first + len(self.arcs.pool)]
        return bought.reshape(-1, supply.weeks, supply.kinds)

    def with_sets(self, more: tuple[WeekSet | DaySet, ...]) -> "LinearForm":
        """Return the form of money with rows for more sets."""
        return money_form(self.program, (*self.sets, *more)) if more else self

    def days_lacking(self, chosen: Choice) -> tuple[DaySet, ...]:
        """Return the sets of days that say what a choice costs and have no row here yet."""
        hours = self.program.hours
        if hours.days is None or not len(self.arcs.pool):
            return ()
        told = day_sets_of(hours.on_days(self.program.load(chosen)), hours)
        return tuple(one for one in told if one not in self.sets)

    def chosen_of(self, entries: NDArray[np.float64]) -> Choice:
        """Return the choice that integral entries stand for."""
        program = self.program
        chosen = np.full(len(program.checks), -1, dtype=np.int64)
        taken = np.flatnonzero(entries[: program.size] > 0.5)
        chosen[program.check_of[taken]] = taken
        return chosen


def money_form(program: Program, sets: tuple[WeekSet | DaySet, ...] = ()) -> LinearForm:
    """Return the program with money as its cost and days past within ``days_allowed``.

    With rows for ``sets`` of weeks, each of a kind of work k, and f the hours put off::

        hours that leave the weeks of S  =  -sum of (f[w - 1] - f[w]) over S
                                         <= sum of x (what can leave them at the most)

    and for ``sets`` of days S (``day_sets.py``)::

        sum of x (hours that must lie on S) - sum of what is bought for S <= hours there on S
    """
    cells, supply = telling_cells(program), program.hours.supply
    settled = program.settled_money
    if not program.hours.are_levelled:
        beside = np.setdiff1d(np.arange(len(program.asked)), cells)
        asked = np.zeros(len(program.asked))
        asked[beside] = program.asked[beside]
        settled += program.hours.money(asked)
    return _form(
        program,
        arcs_into(cells, supply),
        levelling_of(program) if program.hours.are_levelled else None,
        column_cost=program.money,
        unplaced_cost=np.zeros(len(program.checks)),
        offset=settled,
        sets=sets,
    )


def days_form(program: Program) -> LinearForm:
    """Return the program with days past ``Latest in`` as its cost; hours play no part."""
    return _form(
        program,
        arcs_into(np.empty(0, dtype=np.int64), program.hours.supply),
        None,
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
    hours = program.hours
    asked = program.asked[: hours.cells]
    if hours.days is not None:
        # A day may lack what its week has.
        return np.flatnonzero(asked + most > 0.0)
    if hours.are_levelled:
        # What is settled can be levelled too: no cell beyond its regular hours is told beforehand.
        more = program.asked[(1 + MORE) * hours.cells :][: hours.cells]
        return np.flatnonzero(asked + more + most > hours.regular)
    shared = np.tile(hours.supply.is_shared, hours.supply.weeks)
    return np.flatnonzero((asked + most > hours.regular) & ((most > 0) | shared))


def _form(
    program: Program,
    arcs: Arcs,
    levelling: Levelling | None,
    *,
    column_cost: NDArray[np.float64],
    unplaced_cost: NDArray[np.float64],
    offset: float,
    sets: tuple[WeekSet | DaySet, ...] = (),
) -> LinearForm:
    checks, rows, cells = len(program.checks), len(program.capacity), arcs.cells
    column, bought = np.arange(program.size), len(arcs.pool)
    one_slot = csr_array(
        (np.ones(program.size), (program.check_of, column)), shape=(checks, program.size)
    )
    asks = program.man_hours[:, cells][program.course].T
    past = csr_array(program.past[None, :].astype(np.float64))
    unplaced_past = csr_array(program.unplaced_past[None, :].astype(np.float64))
    days = np.inf if program.days_allowed is None else program.days_allowed - program.settled_past
    blocks = [
        # one slot: the columns of a check and its being left out add up to 1
        hstack([one_slot, eye_array(checks), csr_array((checks, bought))]),
        # rows: what the chosen columns take is at most what there is
        hstack([program.footprint.T, csr_array((rows, checks)), csr_array((rows, bought))]),
        # man-hours: asked - bought <= regular
        hstack([asks, csr_array((len(cells), checks)), -arcs.gives()]),
        # pools that several kinds draw on: bought <= what there is in the week
        hstack([csr_array((len(arcs.common_limit), program.size + checks)), arcs.draws()]),
        # days past Latest in
        hstack([past, unplaced_past, csr_array((1, bought))]),
    ]
    spare = program.hours.regular[cells] - program.asked[cells]
    matrix = vstack(blocks)
    upper_rows = np.concatenate([program.capacity, spare, arcs.common_limit, [days]])
    upper = np.concatenate([np.ones(program.size + checks), arcs.limit])
    flows = np.empty(0, dtype=np.int64)
    if levelling is not None:
        flows = levelling.edges
        first = checks + rows
        above, within = first, matrix.shape[0] - first - len(cells)
        shift = levelling.into_weeks[cells]
        empty_above, empty_below = (csr_array((n, len(flows))) for n in (above, within))
        both = vstack([empty_above, shift, empty_below])
        limits = hstack(
            [
                -levelling.limits[program.course].T,
                csr_array((len(levelling.asked), checks + bought)),
                levelling.rows,
            ]
        )
        matrix = vstack([hstack([matrix, both, -both]), limits])
        upper_rows = np.concatenate([upper_rows, levelling.asked])
        upper = np.concatenate([upper, np.full(2 * len(flows), np.inf)])
        if of_weeks := tuple(one for one in sets if isinstance(one, WeekSet)):
            leave, can, settled = _leaving(program, levelling, of_weeks)
            more = hstack([leave, csr_array((len(of_weeks), checks + bought)), can, -can])
            matrix = vstack([matrix, more])
            upper_rows = np.concatenate([upper_rows, settled])
        if of_days := tuple(one for one in sets if isinstance(one, DaySet)):
            asked_there, buys, there = _on_days(program, arcs, of_days)
            count = len(of_days)
            beside = csr_array((count, checks)), csr_array((count, 2 * len(flows)))
            matrix = vstack([matrix, hstack([asked_there, beside[0], -buys, beside[1]])])
            upper_rows = np.concatenate([upper_rows, there])
    costs = [column_cost, unplaced_cost, arcs.price, np.zeros(2 * len(flows))]
    return LinearForm(
        program=program,
        cost=np.concatenate(costs),
        upper=upper,
        matrix=csc_array(matrix),
        row_lower=np.concatenate([np.ones(checks), np.full(len(upper_rows), -np.inf)]),
        row_upper=np.concatenate([np.ones(checks), upper_rows]),
        arcs=arcs,
        offset=offset,
        flows=flows,
        sets=sets,
    )


def _leaving(
    program: Program, levelling: Levelling, sets: tuple[WeekSet, ...]
) -> tuple[csr_array, csr_array, NDArray[np.float64]]:
    """Return the rows of sets of weeks: over columns, over flows, and what settled work can do."""
    strands, kinds = program.hours.strands, program.hours.supply.kinds
    assert strands is not None
    can = strands.can_leave(sets)
    movable = program.man_hours.shape[0]
    is_settled = program.asked[(1 + LIMITS) * program.hours.cells :][movable:] > 0.5
    out = [
        -levelling.into_weeks[[week * kinds + one.kind for week in one.weeks]].sum(axis=0)
        for one in sets
    ]
    return (
        csr_array(-can[program.course].T),
        csr_array(np.vstack(out)),
        np.asarray(can[movable:][is_settled].sum(axis=0), dtype=np.float64),
    )


def _on_days(
    program: Program, arcs: Arcs, sets: tuple[DaySet, ...]
) -> tuple[csr_array, csr_array, NDArray[np.float64]]:
    """Return the rows of sets of days: over columns, over arcs, and what is left there."""
    hours = program.hours
    assert hours.days is not None
    must = hours.days.must(sets)
    number = {
        (int(pool), int(cell)): place
        for place, (pool, cell) in enumerate(zip(arcs.pool, arcs.cell, strict=True))
    }
    places = [
        (row, number[pool, week * hours.supply.kinds + kind])
        for row, one in enumerate(sets)
        for pool, week, kind in one.bought
        if (pool, week * hours.supply.kinds + kind) in number
    ]
    row, column = np.array(places, dtype=np.int64).reshape(-1, 2).T
    buys = csr_array((np.ones(len(row)), (row, column)), shape=(len(sets), len(arcs.pool)))
    there = np.array([one.there for one in sets]) - hours.courses(program.asked) @ must
    return csr_array(must[program.course].T), buys, there
