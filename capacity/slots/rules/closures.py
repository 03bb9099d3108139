"""No aircraft stands in a bay while it is closed."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from capacity.cells import Where, cells
from capacity.facts import Base, Check
from capacity.slots.candidates import Columns
from capacity.slots.rules.changes import Amount, Change, FewestOf, Help, OneChange
from capacity.slots.rules.family import Family, Mask
from capacity.slots.rules.one_more import More, OneMore
from capacity.slots.rules.rule import Met, Rule, RuleKind
from capacity.words import day, days

ONE_DAY = timedelta(days=1)


def closed(columns: Columns, base: Base) -> Mapping[Rule, Mask]:
    """Return, for each closure, the columns with a visit to the bay on a day of it.

    A visit meets it when ``in <= last`` and ``first < out``.
    """
    number_of = columns.slots.calendar.number
    group_of = {group.bays[0]: number for number, group in enumerate(columns.slots.groups)}
    found = {}
    for rule in _rules(base, (), False):
        closure = base.closures[rule.row]
        visits = columns.visits.of_groups([group_of[closure.bay]])
        meets = visits.in_day <= number_of(closure.last)
        meets &= number_of(closure.first) < visits.out_day
        mask = np.zeros(len(columns.check), dtype=np.bool_)
        mask[visits.candidate[meets]] = True
        found[rule] = mask
    return found


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    for row, closure in enumerate(base.closures):
        yield Rule(CLOSURE, closure.bay, row=row)


def _opened(base: Base) -> Base:
    return base.replace(closures=())


def _helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """End a closure sooner, begin it later, or do without it."""
    closure = base.closures[rule.row]
    most = (closure.last - closure.first).days

    def sooner(number: int) -> Base:
        return _with(base, rule.row, closure.first, closure.last - timedelta(days=number))

    def later(number: int) -> Base:
        return _with(base, rule.row, closure.first + timedelta(days=number), closure.last)

    yield FewestOf(OPENS_SOONER, most, sooner)
    if closure.first >= base.first_day:
        yield FewestOf(CLOSES_LATER, most, later)
    others = tuple(c for row, c in enumerate(base.closures) if row != rule.row)
    yield OneChange(OPEN_AGAIN, base.replace(closures=others), days=most + 1)


def _one_more(base: Base) -> Iterator[OneMore]:
    """Yield each closure a day shorter at either end; one of a single day is gone then."""
    for row, closure in enumerate(base.closures):
        sooner = _with(base, row, closure.first, closure.last - ONE_DAY)
        what = f"{closure.bay} open again on {day(closure.last)}"
        yield OneMore(A_DAY_SOONER, closure.bay, what, sooner, row=row)
        if base.first_day <= closure.first < closure.last:
            later = _with(base, row, closure.first + ONE_DAY, closure.last)
            what = f"{closure.bay} still open on {day(closure.first)}"
            yield OneMore(A_DAY_LATER, closure.bay, what, later, row=row)


def _with(base: Base, row: int, first: date, last: date) -> Base:
    """Return the base with other days of a closure; without it if none is left."""
    changed = (replace(base.closures[row], first=first, last=last),) if first <= last else ()
    return base.replace(closures=(*base.closures[:row], *changed, *base.closures[row + 1 :]))


def _holds(rule: Rule, base: Base, where: Where) -> str:
    closure = base.closures[rule.row]
    why = f", {closure.reason}" if closure.reason else ""
    return (
        f"the closure of {rule.of} from {day(closure.first)} to {day(closure.last)}{why} "
        f"{_at(rule.row, where, 'From', 'To')}"
    )


def _blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    return f"{rule.of} is closed {_at(rule.row, where, 'From', 'To')}"


def _says_sooner(amount: Amount, where: Where) -> str:
    last = day(amount.base.closures[amount.row].last - timedelta(days=amount.number))
    at = _at(amount.row, where, "To")
    return f"end the closure of {amount.of} {days(amount.number)} earlier, on {last} {at}"


def _says_later(amount: Amount, where: Where) -> str:
    first = day(amount.base.closures[amount.row].first + timedelta(days=amount.number))
    at = _at(amount.row, where, "From")
    return f"begin the closure of {amount.of} {days(amount.number)} later, on {first} {at}"


def _says_open(amount: Amount, where: Where) -> str:
    return f"do without the closure of {amount.of} {_at(amount.row, where, 'From', 'To')}"


def _at(row: int, where: Where, *columns: str) -> str:
    return cells(where, "Bay closures", f"#{row + 1}", *columns)


OPENS_SOONER = Change("closure ends earlier", 5, _says_sooner)
CLOSES_LATER = Change("closure begins later", 6, _says_later)
OPEN_AGAIN = Change("closure taken away", 7, _says_open, has_least=False)
A_DAY_SOONER = More("closure ends a day earlier", 3, "Bay closures", "To")
A_DAY_LATER = More("closure begins a day later", 3, "Bay closures", "From")

CLOSURE = RuleKind("closure", _holds, _blocks, _helps, bay_helps=True)

CLOSURES = Family(
    name="closures",
    kinds=(CLOSURE,),
    audited_as=frozenset({"closures"}),
    rules=_rules,
    takes_away=closed,
    opened=_opened,
    one_more=_one_more,
)
