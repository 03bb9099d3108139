"""An aircraft moves only when every bay on its way is clear."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from functools import partial

import numpy as np

from capacity.cells import Where, cells
from capacity.facts import Base, Check
from capacity.slots.candidates import Columns, bays_on_the_way
from capacity.slots.rules.bay_days import ONE_AT_A_TIME
from capacity.slots.rules.family import Blocking, Family, Packing
from capacity.slots.rules.rows import RowMaker, Rows, pairs_of_checks
from capacity.slots.rules.rule import Met, Rule, RuleKind, nothing_helps
from capacity.words import listed


def ways_clear(columns: Columns, base: Base) -> Rows:
    """Nobody comes in or leaves on a day strictly inside a stay in a bay on the way.

    For every inner bay i, bay o on its way, and day t::

        sum of x[j] with a visit v to o, in[v] < t < out[v]
            + sum of x[j] with a visit v to i, in[v] = t                          <= 1

    and the same with out[v] = t. The in and out days of the stay on the way are free.
    """
    group_of = {bay: n for n, group in enumerate(columns.slots.groups) for bay in group.bays}
    maker = RowMaker(len(columns.check))
    for inner, way in bays_on_the_way(base).items():
        mine = columns.visits.of_groups([group_of[inner]])
        for passed in sorted(way):
            theirs = columns.visits.of_groups([group_of[passed]])
            for moves, word in ((mine.in_day, "into"), (mine.out_day, "out of")):
                for day in np.unique(moves):
                    stand = theirs.candidate[(theirs.in_day < day) & (day < theirs.out_day)]
                    if len(stand):
                        maker.add(
                            f"{passed} clear for a move {word} {inner} "
                            f"on {columns.slots.calendar.date(day)}",
                            np.concatenate([stand, mine.candidate[moves == day]]),
                            1,
                        )
    return maker.rows()


def ways_by_pairs(columns: Columns, base: Base, into: str | None = None) -> Rows:
    """No check moves past another that stands on its way; only ``into`` a bay, if it is told.

    For every inner bay i, bay o on its way, day t and checks c, d: sum of x[j] of c with a
    visit v to o, in[v] < t < out[v], + sum of x[k] of d with a visit w to i, in[w] = t, <= 1;
    and the same with out[w] = t. The rows of the program also say that there is one aircraft at a
    time in the bays they speak of; to see whether a way alone is in conflict they must not.
    """
    number = {group.bays[0]: n for n, group in enumerate(columns.slots.groups)}
    maker = RowMaker(len(columns.check))
    for inner, way in bays_on_the_way(base).items():
        if into not in (None, inner):
            continue
        mine = columns.visits.of_groups([number[inner]])
        for passed in sorted(way):
            theirs = columns.visits.of_groups([number[passed]])
            for moves, word in ((mine.in_day, "into"), (mine.out_day, "out of")):
                for day in np.unique(moves):
                    stand = theirs.candidate[(theirs.in_day < day) & (day < theirs.out_day)]
                    date = columns.slots.calendar.date(day)
                    name = f"{passed} clear for a move {word} {inner} on {date}"
                    movers = mine.candidate[moves == day]
                    for members in pairs_of_checks(columns.check, stand, movers):
                        maker.add(name, members, 1)
    return maker.rows()


def _way_rows(part: frozenset[Rule], columns: Columns, base: Base) -> Rows:
    """Return the rows of the ways in a part of the rules, all other bays being free to reach.

    Pair by pair, but where there is one aircraft at a time in every bay.
    """
    inner = {rule.of for rule in part if rule.kind == WAY}
    bays = tuple(
        bay if bay.name in inner else replace(bay, reached_through=None) for bay in base.bays
    )
    single = {rule.of for rule in part if rule.kind == ONE_AT_A_TIME}
    rows = ways_clear if single >= {bay.name for bay in bays} else ways_by_pairs
    return rows(columns, base.replace(bays=bays))


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    for bay in base.bays:
        if bay.reached_through is not None:
            yield Rule(WAY, bay.name, bay.reached_through)


def _parts(mine: frozenset[Rule], asked: frozenset[Rule], base: Base) -> Iterator[frozenset[Rule]]:
    """Yield all ways together: whoever goes far in passes several bays."""
    if mine:
        single = frozenset(Rule(ONE_AT_A_TIME, bay.name) for bay in base.bays)
        yield mine | single if single <= asked else mine


def _blocking(base: Base) -> Iterator[Blocking]:
    for rule in _rules(base, (), False):
        yield Blocking((rule,), partial(ways_by_pairs, into=rule.of))


def _holds(rule: Rule, base: Base, where: Where) -> str:
    at = cells(where, "Bays", rule.of, "Reached through")
    return f"{rule.of} is reached through {rule.other} {at}"


def _blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    if rule.of in met.bays:
        return f"the way into or out of {rule.of} is taken by {listed(met.checks)}"
    return f"in the way of {listed(met.checks)}, in or out of {rule.of} on a day of the stay"


WAY = RuleKind("way", _holds, _blocks, nothing_helps, bay_helps=True)

WAYS_CLEAR = Family(
    name="ways",
    kinds=(WAY,),
    audited_as=frozenset({"ways"}),
    rules=_rules,
    packing=Packing(ways_clear, exact=_way_rows, parts=_parts, blocking=_blocking),
)
