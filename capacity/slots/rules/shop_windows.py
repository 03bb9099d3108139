"""Shops turn round items at their daily rate, shared by all checks."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from functools import partial
from math import ceil

import numpy as np
from numpy.typing import NDArray

from capacity.cells import Where, cells
from capacity.facts import Base, Check, Shop
from capacity.labour.calendar import Calendar
from capacity.slots.candidates import Columns, Courses, leave_of
from capacity.slots.rules.changes import Amount, Change, FewestOf, Help
from capacity.slots.rules.family import Blocking, Family, Packing
from capacity.slots.rules.rows import RowMaker, Rows
from capacity.slots.rules.rule import Met, Rule, RuleKind
from capacity.words import counted, listed

TINY_ITEMS = 1e-9
# With so many items a day more no shop is busy: checks stay as long as they would without it.
NEVER_BUSY = 1e6


@dataclass(frozen=True)
class Jobs:
    """Items that are at a shop over ``[leave, back)``, shape (jobs,); ``course`` is whose."""

    course: NDArray[np.int64]
    leave: NDArray[np.int64]
    back: NDArray[np.int64]
    items: NDArray[np.float64]


def shop_windows(columns: Columns, base: Base) -> Rows:
    """In no window of days must a shop do more than it can.

    For every shop s and days a < b::

        sum of items[j, s, a, b] * x[j] <= rate[s] * worked days in [a, b) - those of fixed checks

    items[j, s, a, b] are those of candidate j that leave their aircraft on day a or later
    and are wanted on day b or earlier. A shop that can split its day as it likes has an
    order of work that is in time exactly when all windows keep to this (earliest due date
    first is optimal: Horn, Some simple scheduling algorithms, 1974 - from memory). Only
    windows that can be asked too much have a row.
    """
    maker = RowMaker(len(columns.check))
    slots, calendar = columns.slots, columns.slots.calendar
    owner = np.repeat(
        np.arange(len(slots.candidates)), [len(c.courses.past) for c in slots.candidates]
    )
    for shop in base.shops:
        jobs = _jobs([c.courses for c in slots.candidates], shop, calendar)
        if not len(jobs.course):
            continue
        settled = _jobs(list(slots.settled), shop, calendar)
        for first, until, capacity in _tight_windows(jobs, settled, owner, shop, columns):
            inside = (jobs.leave >= first) & (jobs.back <= until)
            of_course = np.zeros(len(owner))
            np.add.at(of_course, jobs.course[inside], jobs.items[inside])
            sizes = of_course[columns.course]
            members = np.flatnonzero(sizes)
            name = f"{shop.name} from {calendar.date(first)} until {calendar.date(until)}"
            maker.add(name, members, capacity, sizes[members])
    return maker.rows()


def _jobs(all_courses: list[Courses], shop: Shop, calendar: Calendar) -> Jobs:
    """Return what the courses, numbered one after the other, send to the shop."""
    parts: list[tuple[NDArray[np.int64], ...]] = []
    before = 0
    for courses in all_courses:
        stays, count = courses.stays, len(courses.past)
        for number, stage in enumerate(courses.work):
            for loop in stage.loops:
                if loop.shop == shop.name:
                    leave = leave_of(loop, stays.begins, stays.ends, calendar)
                    items = np.full(count, loop.items)
                    mine = before + np.arange(count)
                    parts.append((mine, leave, stays.starts[:, number], items))
        before += count
    course, leave, back, items = (
        np.concatenate([np.empty(0, dtype=np.int64), *arrays])
        for arrays in (zip(*parts, strict=True) if parts else [()] * 4)
    )
    return Jobs(course, leave, back, items.astype(np.float64))


def _tight_windows(
    jobs: Jobs, settled: Jobs, owner: NDArray[np.int64], shop: Shop, columns: Columns
) -> Iterator[tuple[int, int, float]]:
    """Return first day, end and room of the windows that the checks could overfill."""
    worked = columns.slots.calendar.worked_before
    until = np.union1d(jobs.back, settled.back)
    checks = int(owner.max()) + 1
    most = np.zeros(checks)
    of_course = np.zeros(len(owner))
    np.add.at(of_course, jobs.course, jobs.items)
    np.maximum.at(most, owner, of_course)
    for first in np.union1d(jobs.leave, settled.leave):
        later = jobs.leave >= first
        soonest = np.full(checks, np.iinfo(np.int64).max)
        np.minimum.at(soonest, owner[jobs.course[later]], jobs.back[later])
        by_end = np.searchsorted(until, soonest)
        asked = np.cumsum(np.bincount(by_end, weights=most, minlength=len(until) + 1))[:-1]
        room = shop.items_per_day * (worked[until] - worked[first])
        inside = settled.leave >= first
        for place, end in enumerate(until):
            room[place] -= settled.items[inside & (settled.back <= end)].sum()
        for tight in np.flatnonzero((asked > room + TINY_ITEMS) & (until > first)):
            yield int(first), int(until[tight]), max(0.0, float(room[tight]) + TINY_ITEMS)


def _shop_rows(part: frozenset[Rule], columns: Columns, base: Base) -> Rows:
    """Return the rows of one shop."""
    names = {rule.of for rule in part}
    return shop_windows(
        columns, base.replace(shops=tuple(shop for shop in base.shops if shop.name in names))
    )


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    for shop in base.shops:
        yield Rule(SHOP, shop.name)


def _parts(mine: frozenset[Rule], asked: frozenset[Rule], base: Base) -> Iterator[frozenset[Rule]]:
    for rule in sorted(mine, key=lambda rule: rule.of):
        yield frozenset({rule})


def _blocking(base: Base) -> Iterator[Blocking]:
    for rule in _rules(base, (), False):
        yield Blocking((rule,), partial(_shop_rows, frozenset({rule})))


def _lifted(base: Base, packages: Collection[str]) -> Iterator[tuple[Rule, Base]]:
    """Yield each shop of the packages, and the base in which it is never busy."""
    for shop in base.shops:
        if shop.name in shops_of(base, packages):
            quick = _faster(base, shop.name, NEVER_BUSY)
            yield Rule(SHOP, shop.name), quick


def shops_of(base: Base, packages: Collection[str]) -> frozenset[str]:
    """Return the shops to which checks of some packages send items."""
    return frozenset(loop.shop for loop in base.shop_loops if loop.package in packages)


def _ties(base: Base, checks: Collection[str]) -> frozenset[str]:
    """Return the checks at the same shops: who waits there depends on them."""
    packages = {check.package for check in base.checks if check.name in checks}
    shops = shops_of(base, packages)
    busy = {loop.package for loop in base.shop_loops if loop.shop in shops}
    return frozenset(check.name for check in base.checks if check.package in busy)


def _faster(base: Base, name: str, items: float) -> Base:
    shops = tuple(
        replace(shop, items_per_day=shop.items_per_day + items) if shop.name == name else shop
        for shop in base.shops
    )
    return base.replace(shops=shops)


def _faster_shop(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Raise a shop's rate by whole items a day."""
    items = {loop.package: 0 for loop in base.shop_loops}
    for loop in base.shop_loops:
        items[loop.package] += loop.items if loop.shop == rule.of else 0
    # At this rate all items that are wanted at all could be done in one day.
    most = sum(items.get(check.package, 0) for check in base.checks)
    yield FewestOf(FASTER_SHOP, ceil(most), partial(_faster, base, rule.of), days=0)


def _holds(rule: Rule, base: Base, where: Where) -> str:
    shop = next(shop for shop in base.shops if shop.name == rule.of)
    at = cells(where, "Shops", rule.of, "Items per day")
    return f"{shop.items_per_day:g} items a day in {rule.of} {at}"


def _blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    at = cells(where, "Shops", rule.of, "Items per day")
    beside = f" with {listed(met.checks)} there too" if met.checks else ""
    return f"{rule.of} {at} is too slow{beside}"


def _says_faster(amount: Amount, where: Where) -> str:
    at = cells(where, "Shops", amount.of, "Items per day")
    return f"turn round {counted(amount.number, 'item')} a day more in {amount.of} {at}"


FASTER_SHOP = Change("faster shop", 11, _says_faster, is_bought=True)

SHOP = RuleKind("shop", _holds, _blocks, _faster_shop)

SHOP_WINDOWS = Family(
    name="shops",
    kinds=(SHOP,),
    audited_as=frozenset({"shops"}),
    rules=_rules,
    packing=Packing(shop_windows, exact=_shop_rows, parts=_parts, blocking=_blocking, lazy=True),
    lifted=_lifted,
    ties=_ties,
)
