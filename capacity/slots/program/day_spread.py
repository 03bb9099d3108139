"""The cheapest way to lay man-hours on days, and what they cost then.

Hours of crews are there on the days of their roster; overtime, the contract cap and overload are
the week's, on whichever of its days they are wanted. Each skill of each stage is levelled by
itself. It is a linear program for each family of kinds that draw on each other's pools.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.errors import EngineError
from capacity.labour.supply import DaySupply, Floats, Supply
from capacity.slots.program.day_strands import DayStrand, DayStrands

Ints = NDArray[np.int64]
TINY = 1e-9
# Shares of courses that a relaxation's rounding leaves.
SHARE = 1e-6
# What an hour that lies otherwise than evenly counts for, in money: far less than any two prices
# differ by.
MOVING = 1e-5


@dataclass(frozen=True)
class DaySpread:
    """Hours laid on days: ``hours`` of each of the ``strands`` on its days.

    ``asked`` (days, kinds) is what is asked of each day, ``bought`` (pools, weeks, kinds) what each
    pool gives, at a cost of ``money``. ``price`` (days, kinds) is what an hour more would cost.
    """

    strands: Sequence[DayStrand]
    hours: Sequence[Floats]
    asked: Floats
    bought: Floats
    money: float
    price: Floats


def laid_on_days(
    days: DayStrands, shares: Floats, supply: Supply
) -> tuple[list[DayStrand], Floats]:
    """Return the strands of fractions (courses,) of courses, and what lies fixed, (days, kinds)."""
    assert supply.days is not None
    fixed = np.zeros(supply.days.regular.shape)
    strands: list[DayStrand] = []
    for course in np.flatnonzero(shares > SHARE):
        share, one = float(shares[course]), days.of(int(course))
        np.add.at(fixed, (one.days, one.kinds), one.hours * share)
        whole = abs(share - 1.0) <= SHARE
        strands += one.strands if whole else [strand.scaled(share) for strand in one.strands]
    return strands, fixed


def spread_over_days(strands: Sequence[DayStrand], fixed: Floats, supply: Supply) -> DaySpread:
    """Lay ``strands`` on their days beside what is ``fixed`` (days, kinds).

    Minimise the price of what is bought, and ``MOVING`` times what lies otherwise than evenly.
    """
    assert supply.days is not None
    most = fixed.copy()
    for strand in strands:
        most[strand.days, strand.kind] += strand.most
    over = most > supply.days.regular + TINY
    hours = [strand.even for strand in strands]
    asked, price = fixed.copy(), np.zeros_like(fixed)
    bought = np.zeros((len(supply.pool_names), supply.weeks, supply.kinds))
    moving = [over[strand.days, strand.kind].any() for strand in strands]
    for strand, moves in zip(strands, moving, strict=True):
        if not moves:
            asked[strand.days, strand.kind] += strand.even
    for family in supply.of_kinds:
        mine = [
            number
            for number, strand in enumerate(strands)
            if moving[number] and strand.kind in family
        ]
        if mine or over[:, list(family)].any():
            solved = _Family(family, [strands[n] for n in mine], asked, over, supply).solved()
            bought[:, :, list(family)] = solved.bought
            price[:, list(family)] = solved.price
            for number, own in zip(mine, solved.hours, strict=True):
                hours[number] = own
    for number, strand in enumerate(strands):
        if moving[number]:
            asked[strand.days, strand.kind] += hours[number]
    prices = np.where(supply.serves, supply.pool_price, 0.0)
    money = float(np.einsum("pwk,pk->", bought, prices))
    return DaySpread(strands, hours, asked, bought, money, price)


@dataclass(frozen=True)
class _Solved:
    hours: list[Floats]
    bought: Floats
    price: Floats


class _Family:
    """The linear program of a family of kinds: columns and rows by number, entry by entry.

    Hours of strands, less and more than evenly, lie first. ``(day, kind)`` is given what any day of
    the week can have bought, and what pools have on that day.
    """

    def __init__(
        self,
        family: tuple[int, ...],
        strands: list[DayStrand],
        asked: Floats,
        over: NDArray[np.bool_],
        supply: Supply,
    ) -> None:
        assert supply.days is not None
        self._family, self._strands, self._supply = family, strands, supply
        self._days: DaySupply = supply.days
        day, place = np.nonzero(over[:, list(family)])
        self._day, self._kind = day, np.array(family)[place]
        self._row_of = np.full(over.shape, -1)
        self._row_of[self._day, self._kind] = np.arange(len(day))
        self._spare = self._days.regular[self._day, self._kind] - asked[self._day, self._kind]
        self._cost: list[Floats] = []
        self._most: list[Floats] = []
        self._columns = 0
        self._entries: list[tuple[Ints, Ints, Floats]] = []
        self._limits: list[Floats] = [self._spare]
        self._rows = len(day)

    def solved(self) -> _Solved:
        """Solve it."""
        strands, supply = self._strands, self._supply
        nothing = np.empty(0, dtype=np.int64)
        days = np.concatenate([nothing, *(s.days for s in strands)])
        kinds = np.concatenate([nothing, *(np.full(len(s.days), s.kind) for s in strands)])
        even = np.concatenate([np.empty(0), *(s.even for s in strands)])
        most = np.concatenate([np.empty(0), *(np.full(len(s.days), s.most) for s in strands)])
        of = np.repeat(np.arange(len(strands)), [len(s.days) for s in strands])
        row = self._row_of[days, kinds]
        told = np.flatnonzero(row >= 0)
        more = self._add(np.full(len(days), MOVING), np.maximum(most - even, 0.0))
        less = self._add(np.full(len(days), MOVING), even)
        self._enter(row[told], more[told], 1.0)
        self._enter(row[told], less[told], -1.0)
        np.add.at(self._spare, row[told], -even[told])
        any_day = self._add_any_day()
        on_day = self._add_on_day()
        matrix = self._matrix()
        sums = csr_array(
            (
                np.concatenate([np.ones(len(of)), -np.ones(len(of))]),
                (np.concatenate([of, of]), np.concatenate([more, less])),
            ),
            shape=(len(strands), self._columns),
        )
        # Here, since a side of the search starts sooner without.
        from scipy.optimize import linprog

        found = linprog(  # type: ignore[call-overload]  # its stubs know no sparse matrices
            np.concatenate(self._cost),
            A_ub=matrix,
            b_ub=np.concatenate(self._limits),
            A_eq=sums if len(strands) else None,
            b_eq=np.zeros(len(strands)) if len(strands) else None,
            bounds=np.column_stack([np.zeros(self._columns), np.concatenate(self._most)]),
            method="highs",
        )
        if found.x is None:
            raise EngineError(f"man-hours could not be laid on days: {found.message}")
        spread = np.clip(even + found.x[more] - found.x[less], 0.0, np.maximum(most, even))
        bought = np.zeros((len(supply.pool_names), supply.weeks, supply.kinds))
        for arcs, columns in (any_day, on_day):
            np.add.at(bought, arcs, found.x[columns])
        price = np.zeros(self._row_of.shape)
        price[self._day, self._kind] = -found.ineqlin.marginals[: len(self._day)]
        ends = np.cumsum([len(s.days) for s in strands])[:-1]
        parts = np.split(spread, ends) if strands else []
        family = list(self._family)
        return _Solved(
            [_tidied(one, own) for one, own in zip(strands, parts, strict=True)],
            bought[:, :, family],
            price[:, family],
        )

    def _add(self, cost: Floats, most: Floats) -> Ints:
        columns = self._columns + np.arange(len(cost))
        self._columns += len(cost)
        self._cost.append(cost)
        self._most.append(most)
        return columns

    def _add_rows(self, limits: Floats) -> Ints:
        rows = self._rows + np.arange(len(limits))
        self._rows += len(limits)
        self._limits.append(limits)
        return rows

    def _enter(self, rows: Ints, columns: Ints, factor: float) -> None:
        self._entries.append((rows, columns, np.full(len(rows), factor)))

    def _add_any_day(self) -> tuple[tuple[Ints, Ints, Ints], Ints]:
        """Add what can be bought for a week: given to its days, drawn from its pools."""
        given = self._add(np.zeros(len(self._day)), np.full(len(self._day), np.inf))
        self._enter(np.arange(len(self._day)), given, -1.0)
        week = self._days.week[self._day]
        key, number = np.unique(week * self._supply.kinds + self._kind, return_inverse=True)
        rows = self._add_rows(np.zeros(len(key)))
        self._enter(rows[number], given, 1.0)
        weeks, kinds = np.divmod(key, self._supply.kinds)
        there = self._supply.serves[:, kinds] & (self._days.any_day[:, weeks] > 0.0)
        pool, place = np.nonzero(there)
        arcs = pool, weeks[place], kinds[place]
        limit = self._days.any_day[pool, weeks[place]]
        drawn = self._add(self._supply.pool_price[pool, kinds[place]], limit)
        self._enter(rows[place], drawn, -1.0)
        self._share(pool * self._supply.weeks + weeks[place], limit, drawn)
        return arcs, drawn

    def _add_on_day(self) -> tuple[tuple[Ints, Ints, Ints], Ints]:
        """Add what pools have on a day, for that day."""
        there = self._supply.serves[:, self._kind] & (self._days.on_day[:, self._day] > 0.0)
        pool, place = np.nonzero(there)
        day, kind = self._day[place], self._kind[place]
        limit = self._days.on_day[pool, day]
        drawn = self._add(self._supply.pool_price[pool, kind], limit)
        self._enter(place.astype(np.int64), drawn, -1.0)
        self._share(pool * len(self._days.week) + day, limit, drawn)
        return (pool, self._days.week[day], kind), drawn

    def _share(self, key: Ints, limit: Floats, columns: Ints) -> None:
        """Bound what columns with the same key take together."""
        _, first, number, count = np.unique(
            key, return_index=True, return_inverse=True, return_counts=True
        )
        together = (count > 1) & np.isfinite(limit[first])
        rows = self._add_rows(limit[first][together])
        row_of = np.full(len(count), -1)
        row_of[together] = rows
        mine = np.flatnonzero(together[number])
        self._enter(row_of[number[mine]], columns[mine], 1.0)

    def _matrix(self) -> csr_array:
        rows, columns, factors = (np.concatenate(part) for part in zip(*self._entries, strict=True))
        return csr_array((factors, (rows, columns)), shape=(self._rows, self._columns))


def _tidied(strand: DayStrand, hours: Floats) -> Floats:
    """Return the hours with what a solver leaves open in its last digits put right."""
    lacking = strand.hours - float(hours.sum())
    room = strand.most - hours if lacking > 0.0 else hours
    tidy = hours.copy()
    tidy[np.argmax(room)] += lacking
    return tidy
