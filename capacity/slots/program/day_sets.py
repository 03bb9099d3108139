"""Sets of days on which stages must do more than there is: rows taken in once they are broken.

For any set S of days and kinds of work, stages must do on S what the sum of their least hours
there is. It has to be given by what there is on S: hours of crews on these days, and what is bought
in the weeks that S touches. So for every plan, with x the chosen courses and b what is bought::

    sum of x must(S)  <=  hours of crews on S  +  sum of b over the weeks of S

A choice can be laid on its days with what is bought just if it keeps that for all S (max-flow
min-cut; Ford and Fulkerson 1956 - from memory). The sets that a relaxation breaks are told by the
prices of hours when what it chooses is laid on days: the days on which an hour is dearer than some
price. Pools that are there on days of a roster count by what they have, or by what is bought of
them if that costs more than the price of the set. A set falls apart where no stage ties its weeks.
"""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from capacity.labour.supply import Floats, Supply
from capacity.slots.program.day_spread import DaySpread, laid_on_days, spread_over_days
from capacity.slots.program.day_strands import DaySet, DayStrand
from capacity.slots.program.hours import Hours
from capacity.slots.program.program import Program

Ints = NDArray[np.int64]
# Hours that a relaxation lacks on a set of days before a row is worth it, and prices that differ.
MUCH, OTHER_PRICE = 1e-2, 0.01
TINY = 1e-6


def day_sets_of(spread: DaySpread, hours: Hours) -> tuple[DaySet, ...]:
    """Return the sets of days that say what a spread costs; with their rows it costs no less."""
    return tuple(dict.fromkeys(one for one, _ in _sets(spread, hours.supply)))


def day_sets_broken_at(program: Program, weights: Floats, bought: Floats) -> tuple[DaySet, ...]:
    """Return the sets of days on which fractions of columns must do more than there is.

    ``weights`` (columns,) are those fractions, ``bought`` (pools, weeks, kinds) what a
    relaxation buys with them.
    """
    hours = program.hours
    assert hours.days is not None
    shares = hours.courses(program.asked).copy()
    np.add.at(shares, program.course, weights)
    laid = laid_on_days(hours.days, shares, hours.supply)
    found: dict[DaySet, None] = {}
    for one, must in _sets(spread_over_days(*laid, hours.supply), hours.supply):
        if must > one.there + sum(float(bought[arc]) for arc in one.bought) + MUCH:
            found[one] = None
    return tuple(found)


def _sets(spread: DaySpread, supply: Supply) -> Iterator[tuple[DaySet, float]]:
    """Yield the sets of days that the prices of a spread tell, and what must lie there."""
    assert supply.days is not None
    fixed = spread.asked.copy()
    for strand, own in zip(spread.strands, spread.hours, strict=True):
        fixed[strand.days, strand.kind] -= own
    for family in supply.of_kinds:
        prices = np.round(spread.price[:, list(family)], 2)
        levels = {0.0, *np.unique(prices).tolist(), *_prices_on_days(supply, family)}
        mine = [strand for strand in spread.strands if strand.kind in family]
        for level in sorted(levels):
            is_in = np.zeros(spread.price.shape, dtype=np.bool_)
            is_in[:, list(family)] = prices > level + OTHER_PRICE / 2
            for part in _parts(is_in, mine, supply.days.week):
                must = float(fixed[part].sum()) + sum(_must(strand, part) for strand in mine)
                yield _set_of(part, level, supply), must


def _prices_on_days(supply: Supply, family: Sequence[int]) -> set[float]:
    """Return the prices of the pools that are there on days of a roster."""
    assert supply.days is not None
    pools = supply.days.on_day.any(axis=1)
    price = supply.pool_price[pools][:, list(family)]
    return {round(float(one), 2) for one in price[np.isfinite(price)]}


def _must(strand: DayStrand, is_in: NDArray[np.bool_]) -> float:
    elsewhere = int((~is_in[strand.days, strand.kind]).sum())
    return max(0.0, strand.hours - strand.most * elsewhere)


def _parts(
    is_in: NDArray[np.bool_], strands: Sequence[DayStrand], week: Ints
) -> Iterator[NDArray[np.bool_]]:
    """Part a set of days into weeks, those together that a strand ties.

    It ties them if it must do more on all than on each by itself.
    """
    weeks = np.unique(week[is_in.any(axis=1)])
    tied = {int(w): int(w) for w in weeks}

    def root(w: int) -> int:
        while tied[w] != w:
            w = tied[w]
        return w

    for strand in strands:
        own = is_in[strand.days, strand.kind]
        here = np.unique(week[strand.days[own]])
        if len(here) < 2 or (must := _must(strand, is_in)) <= TINY:
            continue
        alone = sum(
            max(
                0.0,
                strand.hours
                - strand.most * (len(strand.days) - int((own & (week[strand.days] == w)).sum())),
            )
            for w in here
        )
        if must > alone + TINY:
            for w in here[1:]:
                tied[root(int(w))] = root(int(here[0]))
    groups: dict[int, list[int]] = {}
    for w in weeks:
        groups.setdefault(root(int(w)), []).append(int(w))
    for group in groups.values():
        yield is_in & np.isin(week, group)[:, None]


def _set_of(is_in: NDArray[np.bool_], level: float, supply: Supply) -> DaySet:
    """Return a set of days with what can be used on them."""
    days = supply.days
    assert days is not None
    there = float(days.regular[is_in].sum())
    bought: list[tuple[int, int, int]] = []
    touched = {(int(days.week[d]), int(k)) for d, k in zip(*np.nonzero(is_in), strict=True)}
    for pool in range(len(supply.pool_names)):
        serves = supply.serves[pool]
        priced = {k for _, k in touched if serves[k] and supply.pool_price[pool, k] > level + TINY}
        if days.on_day[pool].any() and not priced:
            on = (is_in & serves).any(axis=1)
            there += float(days.on_day[pool, on].sum())
            there += float(days.any_day[pool, np.unique(days.week[on])].sum())
            continue
        bought += [(pool, w, k) for w, k in sorted(touched) if serves[k]]
    by_kind = tuple(
        (int(kind), tuple(np.flatnonzero(is_in[:, kind]).tolist()))
        for kind in np.flatnonzero(is_in.any(axis=0))
    )
    return DaySet(by_kind, tuple(bought), round(there, 6))
