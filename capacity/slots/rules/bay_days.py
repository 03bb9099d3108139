"""One aircraft at a time in a bay, with the changeover behind it."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from capacity.cells import Where, cells
from capacity.facts import Base, Bay, Check
from capacity.slots.candidates import BayGroup, Columns
from capacity.slots.rules.changes import Amount, Change, FewestOf, Help
from capacity.slots.rules.family import Blocking, Family, Packing
from capacity.slots.rules.one_more import More, OneMore
from capacity.slots.rules.rows import RowMaker, Rows
from capacity.slots.rules.rule import Met, Rule, RuleKind, nothing_helps
from capacity.words import days, listed


def bay_days(columns: Columns, base: Base) -> Rows:
    """On each day a group holds no more stays than it has bays that can be used.

    For every group g and day t on which g takes aircraft::

        sum of x[j] over candidates j with a visit v to g that has
            in[v] <= t < out[v] + changeover[g]                    <= usable[g, t]

    An aircraft that comes back counts once: no changeover lies between its own visits.
    Only days whose set of candidates is not contained in a neighbour's are kept.
    """
    maker = RowMaker(len(columns.check))
    for number, group in enumerate(columns.slots.groups):
        mine = columns.visits.of_groups([number])
        if not len(mine.candidate):
            continue
        first = mine.in_day
        until = mine.out_day + group.changeover_days
        for day in _telling_days(first, until, group):
            name = f"bays {group.title} on {columns.slots.calendar.date(day)}"
            stand = np.unique(mine.candidate[(first <= day) & (day < until)])
            maker.add(name, stand, int(group.usable[day]))
    return maker.rows()


def _telling_days(first: NDArray[np.int64], until: NDArray[np.int64], group: BayGroup) -> list[int]:
    """Return the days that bind: the last before a leaving or a bay more, with arrivals since.

    The stays over any other day all stand over a neighbouring day with no more usable bays.
    """
    days = range(int(first.min()), min(int(until.max()), len(group.usable)))
    arrivals = np.bincount(first, minlength=len(group.usable) + 1)
    leavings = np.bincount(until, minlength=len(group.usable) + 1)
    closed = group.shut | group.taken
    telling, arrived = [], False
    for day in days:
        arrived |= bool(arrivals[day]) or (day > 0 and group.usable[day] < group.usable[day - 1])
        last = day + 1 >= len(group.usable)
        ends = last or leavings[day + 1] or closed[day + 1]
        ends = ends or group.usable[day + 1] > group.usable[day]
        if arrived and ends and not closed[day]:
            telling.append(day)
            arrived = False
    return telling


def _bay_rows(part: frozenset[Rule], columns: Columns, base: Base) -> Rows:
    """Return the rows of one bay, with its changeover if that is in the part of the rules."""
    bay, slots = next(iter(part)).of, columns.slots
    number = next(n for n, group in enumerate(slots.groups) if group.bays == (bay,))
    groups = list(slots.groups)
    if Rule(CHANGEOVER, bay) not in part:
        groups[number] = replace(groups[number], changeover_days=0)
    visits = columns.visits.of_groups([number])
    slots = replace(slots, groups=tuple(groups))
    return bay_days(replace(columns, slots=slots, visits=visits), base)


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    for bay in base.bays:
        yield Rule(ONE_AT_A_TIME, bay.name)
    for bay in base.bays:
        if bay.changeover_days:
            yield Rule(CHANGEOVER, bay.name)


def _parts(mine: frozenset[Rule], asked: frozenset[Rule], base: Base) -> Iterator[frozenset[Rule]]:
    """Yield the rules of each bay; a changeover tells nothing of one that takes any number."""
    for rule in sorted(mine, key=lambda rule: rule.of):
        if rule.kind == ONE_AT_A_TIME:
            yield mine & {rule, Rule(CHANGEOVER, rule.of)}


def _blocking(base: Base) -> Iterator[Blocking]:
    for bay in base.bays:
        single = frozenset({Rule(ONE_AT_A_TIME, bay.name)})
        yield Blocking((*single,), partial(_bay_rows, single))
        if bay.changeover_days:
            changeover = Rule(CHANGEOVER, bay.name)
            both = single | {changeover}
            yield Blocking((changeover,), partial(_bay_rows, both), hiding=single)


def further_bay(bay: Bay, base: Base) -> Bay:
    """Return a bay of the same size and work, with a way and a floor of its own."""
    taken, number = {b.name for b in base.bays}, 2
    while (name := f"{bay.name} ({number})") in taken:
        number += 1
    return replace(bay, name=name, reached_through=None, shares_floor_with=frozenset())


def size_of(bay: Bay) -> tuple[object, ...]:
    """Return what decides which checks a bay could hold."""
    return bay.max_span_m, bay.max_length_m, bay.max_tail_m, bay.work, bay.docking


def _shorter_changeover(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Turn a bay round in some days less."""
    bay = base.bay(rule.of)

    def shorter(days_less: int) -> Base:
        changed = replace(bay, changeover_days=bay.changeover_days - days_less)
        return base.replace(bays=tuple(changed if b is bay else b for b in base.bays))

    yield FewestOf(SHORTER_CHANGEOVER, bay.changeover_days, shorter)


def _one_more(base: Base) -> Iterator[OneMore]:
    """Yield one bay more of each size and work, with a way of its own, never closed."""
    known = set()
    for bay in base.bays:
        if size_of(bay) not in known:
            known.add(size_of(bay))
            more = base.replace(bays=(*base.bays, further_bay(bay, base)))
            yield OneMore(ONE_MORE_BAY, bay.name, f"one more bay like {bay.name}", more)


def _single_holds(rule: Rule, base: Base, where: Where) -> str:
    return f"one aircraft at a time in {rule.of} {cells(where, 'Bays', rule.of, 'Bay')}"


def _single_blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    return f"taken by {listed(met.checks)}"


def _changeover_holds(rule: Rule, base: Base, where: Where) -> str:
    at = cells(where, "Bays", rule.of, "Changeover days")
    return f"{days(base.bay(rule.of).changeover_days)} between two aircraft in {rule.of} {at}"


def _changeover_blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    at = cells(where, "Bays", rule.of, "Changeover days")
    return f"no time for the changeover next to {listed(met.checks)} {at}"


def _says_shorter(amount: Amount, where: Where) -> str:
    at = cells(where, "Bays", amount.of, "Changeover days")
    return f"make the changeover in {amount.of} {days(amount.number)} shorter {at}"


def _says_further(amount: Amount, where: Where) -> str:
    at = cells(where, "Bays", amount.bay, "Bay")
    return f"have one more bay like {amount.bay} {at}, with a way of its own"


SHORTER_CHANGEOVER = Change("shorter changeover", 8, _says_shorter)
FURTHER_BAY = Change("further bay", 13, _says_further, has_least=False, is_bought=True)
ONE_MORE_BAY = More("one more bay", 0, "Bays", "Bay")

ONE_AT_A_TIME = RuleKind(
    "one aircraft at a time", _single_holds, _single_blocks, nothing_helps, bay_helps=True
)
CHANGEOVER = RuleKind("changeover", _changeover_holds, _changeover_blocks, _shorter_changeover)

BAY_DAYS = Family(
    name="bays",
    kinds=(ONE_AT_A_TIME, CHANGEOVER),
    audited_as=frozenset({"bays"}),
    rules=_rules,
    packing=Packing(bay_days, exact=_bay_rows, parts=_parts, blocking=_blocking),
    one_more=_one_more,
)
