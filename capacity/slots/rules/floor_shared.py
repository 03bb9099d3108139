"""Bays that share floor are not occupied on the same day."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from functools import partial

import numpy as np

from capacity.cells import Where, cells
from capacity.facts import Base, Check
from capacity.slots.candidates import Columns, floor_sharers
from capacity.slots.rules.bay_days import ONE_AT_A_TIME
from capacity.slots.rules.family import Blocking, Family, Packing
from capacity.slots.rules.rows import RowMaker, Rows, pairs_of_checks
from capacity.slots.rules.rule import Met, Rule, RuleKind, nothing_helps
from capacity.words import listed


def floor_shared(columns: Columns, base: Base) -> Rows:
    """Of two bays on the same floor one at the most is occupied.

    For every pair (a, b) that shares floor and every day t::

        sum of x[j] over candidates j with a visit v to a or b that has in[v] <= t < out[v]  <= 1

    A day on which nobody comes in asks no more than the day before and has no row.
    """
    group_of = {bay: n for n, group in enumerate(columns.slots.groups) for bay in group.bays}
    maker = RowMaker(len(columns.check))
    for bay, others in floor_sharers(base).items():
        for other in sorted(name for name in others if bay < name):
            both = columns.visits.of_groups([group_of[bay], group_of[other]])
            for day in np.unique(both.in_day):
                stand = (both.in_day <= day) & (day < both.out_day)
                name = f"floor of {bay} and {other} on {columns.slots.calendar.date(day)}"
                maker.add(name, both.candidate[stand], 1)
    return maker.rows()


def floor_by_pairs(columns: Columns, base: Base, bay: str, other: str) -> Rows:
    """Two checks do not stand in two bays that share floor on the same day.

    For every day t and checks c, d: sum of x[j] of c that stands in ``bay`` on t + sum of
    x[k] of d that stands in ``other`` on t <= 1. A day on which nobody comes in has no row. The
    rows of the program also say that there is one aircraft at a time in each of the two bays; to
    see whether the floor alone is in conflict they must not.
    """
    number = {group.bays[0]: n for n, group in enumerate(columns.slots.groups)}
    maker = RowMaker(len(columns.check))
    here = columns.visits.of_groups([number[bay]])
    there = columns.visits.of_groups([number[other]])
    for day in np.unique(np.concatenate([here.in_day, there.in_day])):
        stand = here.candidate[(here.in_day <= day) & (day < here.out_day)]
        beside = there.candidate[(there.in_day <= day) & (day < there.out_day)]
        for members in pairs_of_checks(columns.check, stand, beside):
            name = f"floor of {bay} and {other} on {columns.slots.calendar.date(day)}"
            maker.add(name, members, 1)
    return maker.rows()


def _floor_rows(part: frozenset[Rule], columns: Columns, base: Base) -> Rows:
    """Return the rows of one floor; pair by pair, but where both bays take one at a time."""
    rule = next(rule for rule in part if rule.kind == FLOOR)
    if len(part) == 1:
        return floor_by_pairs(columns, base, rule.of, rule.other)
    bays = tuple(
        replace(b, shares_floor_with=frozenset({rule.other} if b.name == rule.of else ()))
        for b in base.bays
    )
    return floor_shared(columns, base.replace(bays=bays))


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    for name, others in floor_sharers(base).items():
        for other in sorted(others):
            if name < other:
                yield Rule(FLOOR, name, other)


def _parts(mine: frozenset[Rule], asked: frozenset[Rule], base: Base) -> Iterator[frozenset[Rule]]:
    """Yield each floor by itself, with the rules of its two bays if both are asked."""
    for rule in sorted(mine, key=lambda rule: (rule.of, rule.other)):
        single = {Rule(ONE_AT_A_TIME, rule.of), Rule(ONE_AT_A_TIME, rule.other)}
        yield frozenset({rule}) | (single if single <= asked else set())


def _blocking(base: Base) -> Iterator[Blocking]:
    for rule in _rules(base, (), False):
        yield Blocking((rule,), partial(floor_by_pairs, bay=rule.of, other=rule.other))


def _holds(rule: Rule, base: Base, where: Where) -> str:
    at = cells(where, "Bays", rule.of, "Shares floor with")
    return f"{rule.of} and {rule.other} share floor {at}"


def _blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    other = rule.other if rule.of in met.bays else rule.of
    return f"its floor is taken by {listed(met.checks)} in {other}"


FLOOR = RuleKind("shared floor", _holds, _blocks, nothing_helps, bay_helps=True)

FLOOR_SHARED = Family(
    name="shared floor",
    kinds=(FLOOR,),
    audited_as=frozenset({"shared floor"}),
    rules=_rules,
    packing=Packing(floor_shared, exact=_floor_rows, parts=_parts, blocking=_blocking),
)
