"""A stage waits for a part, a tool or an approval: it does not start before its Ready date."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from datetime import timedelta

from capacity.cells import Where, cells
from capacity.facts import Base
from capacity.slots.rules.changes import Amount, Change, FewestOf, Help
from capacity.slots.rules.family import Family
from capacity.slots.rules.one_more import More, OneMore
from capacity.slots.rules.rule import Rule, RuleKind
from capacity.words import day, days

SHEET = "Ready dates"


def _lifted(base: Base, packages: Collection[str]) -> Iterator[tuple[Rule, Base]]:
    """Yield each Ready date of checks of the packages, and the base without it."""
    for row, ready in enumerate(base.ready_dates):
        if base.has_check(ready.check) and base.check(ready.check).package in packages:
            yield Rule(READY, ready.check, ready.stage, row), without_row(base, row)


def without_row(base: Base, row: int) -> Base:
    """Return the base without one of its Ready dates, counted from 0."""
    others = tuple(ready for n, ready in enumerate(base.ready_dates) if n != row)
    return base.replace(ready_dates=others)


def _helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Let the part come some days earlier, up to the first day of the plan."""

    def earlier(number_of_days: int) -> Base:
        rows = tuple(
            replace(ready, not_before=ready.not_before - timedelta(days=number_of_days))
            if number == rule.row
            else ready
            for number, ready in enumerate(base.ready_dates)
        )
        return base.replace(ready_dates=rows)

    most = (base.ready_dates[rule.row].not_before - base.first_day).days
    if most > 0:
        yield FewestOf(PART_EARLIER, most, earlier)


def _one_more(base: Base) -> Iterator[OneMore]:
    """Yield each Ready date taken away: what being ready at once is worth."""
    for row, ready in enumerate(base.ready_dates):
        what = f"{in_words(base, row)}: ready at once"
        yield OneMore(READY_AT_ONCE, ready.check, what, without_row(base, row), row=row)


def in_words(base: Base, row: int) -> str:
    """Return ``'Repair' of N-02 not before Mon 11 Jan 2027 (part)``."""
    ready = base.ready_dates[row]
    why = f" ({ready.reason})" if ready.reason else ""
    return f"'{ready.stage}' of {ready.check} not before {day(ready.not_before)}{why}"


def _holds(rule: Rule, base: Base, where: Where) -> str:
    return f"{in_words(base, rule.row)} {_at(rule.row, where)}"


def _says_earlier(amount: Amount, where: Where) -> str:
    ready = amount.base.ready_dates[amount.row]
    what = ready.reason or "what it waits for"
    sooner = ready.not_before - timedelta(days=amount.number)
    return (
        f"get {what} for '{ready.stage}' of {ready.check} {days(amount.number)} earlier, by "
        f"{day(sooner)} {_at(amount.row, where)}"
    )


def _at(row: int, where: Where) -> str:
    return cells(where, SHEET, f"#{row + 1}", "Not before")


PART_EARLIER = Change("part earlier", 4, _says_earlier)
READY_AT_ONCE = More("a stage ready at once", 1, SHEET, "Not before")

READY = RuleKind("ready date", _holds, None, _helps)

READY_DATES = Family(
    name="ready dates",
    kinds=(READY,),
    audited_as=frozenset({"stages"}),
    lifted=_lifted,
    one_more=_one_more,
)
