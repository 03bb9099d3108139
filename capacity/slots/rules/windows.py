"""A check comes in within its window, a fixed one into its bay on its day."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from datetime import date, timedelta

from capacity.cells import Where, cells
from capacity.facts import Base, Check, Status, is_cut
from capacity.slots.candidates import bays_that_hold, fits, kinds_needed, misfits
from capacity.slots.rules.changes import Amount, Change, DateMoved, Help, OneChange, OwnDate
from capacity.slots.rules.family import Family
from capacity.slots.rules.rule import Rule, RuleKind
from capacity.words import counted, day, days, listed


def rule_of(check: Check) -> Rule:
    """Return the rule that asks for a place for a check.

    A ``WINDOW`` asks that it comes in from ``Earliest in`` to ``Latest in``, a ``FIXED_PLACE``
    that it comes into its fixed bay on its fixed day; a check of which neither is asked need not
    come in at all.
    """
    return Rule(FIXED_PLACE if check.status is Status.FIXED else WINDOW, check.name)


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    """Yield what asks for places, then ``Latest in`` of fixed checks that stand past it.

    For others ``Latest in`` says nothing beside their window.
    """
    for check in checks:
        yield rule_of(check)
    for check in checks:
        if on_time and check.fixed_in is not None and check.fixed_in > check.latest_in:
            yield Rule(LATEST_IN, check.name)


def _with(base: Base, changed: Check) -> Base:
    checks = tuple(changed if check.name == changed.name else check for check in base.checks)
    return base.replace(checks=checks)


def _window_helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    yield DateMoved(LATER, OwnDate.IN_PAST_LATEST)
    if base.check(rule.of).earliest_in > base.first_day:
        yield DateMoved(EARLIER, OwnDate.IN_BEFORE_EARLIEST)
    yield _given_up(rule, base)


def _fixed_helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Yield another day and other bays for a check that is not in yet."""
    check = base.check(rule.of)
    if check.fixed_in is not None and check.fixed_in >= base.first_day:
        yield DateMoved(OTHER_DAY, OwnDate.FIXED_DAY)
        for bay in _other_bays(check, base):
            moved = _with(base, replace(check, fixed_bay=bay))
            yield OneChange(OTHER_BAY, moved, days=0, bay=bay)
    yield _given_up(rule, base)


def _other_bays(check: Check, base: Base) -> Iterator[str]:
    """Yield the bays in which a fixed check could stand instead of its own."""
    aircraft = base.type(check.type)
    package = base.package_of(check)
    needed = {stage.work for stage in package.stages}
    for bay in base.bays:
        if bay.name != check.fixed_bay and fits(bay, aircraft) and needed <= bay.work:
            yield bay.name


def _given_up(rule: Rule, base: Base) -> Help:
    """Take a check out; it counts as ``Longest delay days`` + 1, as one without a slot does."""
    others = tuple(check for check in base.checks if check.name != rule.of)
    return OneChange(GIVEN_UP, base.replace(checks=others), days=base.longest_delay_days + 1)


def _latest_in_helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Have ``Latest in`` of a fixed check extended to its fixed day."""
    check = base.check(rule.of)
    assert check.fixed_in is not None
    late = (check.fixed_in - check.latest_in).days
    extended = _with(base, replace(check, latest_in=check.fixed_in))
    yield OneChange(EXTENDED, extended, days=late, number=late)


def _window_holds(rule: Rule, base: Base, where: Where) -> str:
    check = base.check(rule.of)
    window = window_text(check, base, where)
    return f"the window of {rule.of}, {window}; {bays_that_hold(check, base)}"


def _fixed_holds(rule: Rule, base: Base, where: Where) -> str:
    check = base.check(rule.of)
    assert check.fixed_in is not None
    at = cells(where, "Checks", rule.of, "Fixed bay", "Fixed in")
    reasons = _misfits_of_fixed_bay(check, base)
    why_not = f"; {check.fixed_bay} cannot hold it: {listed(reasons)}" if reasons else ""
    return (
        f"the fixed bay and day of {rule.of}, {check.fixed_bay} on {day(check.fixed_in)} "
        f"{at}{why_not}"
    )


def _misfits_of_fixed_bay(check: Check, base: Base) -> tuple[str, ...]:
    aircraft = base.type(check.type)
    bay = base.bay(check.fixed_bay or "")
    return misfits(bay, aircraft, kinds_needed(check, base)[:1])


def _latest_in_holds(rule: Rule, base: Base, where: Where) -> str:
    at = cells(where, "Checks", rule.of, "Latest in")
    return f"the Latest in of {rule.of}, {day(base.check(rule.of).latest_in)} {at}"


def window_text(check: Check, base: Base, where: Where) -> str:
    """Return the days on which a check may come in, as the planning period leaves them."""
    at = cells(where, "Checks", check.name, "Earliest in", "Latest in")
    first, last = max(check.earliest_in, base.first_day), min(check.latest_in, base.last_in_day)
    text = f"in from {day(first)} to {day(last)} {at}"
    if base.has_lapsed(check):
        assert check.decide_by is not None
        by = f"{day(check.decide_by)} {cells(where, 'Checks', check.name, 'Decide by')}"
        return f"{_whole(check)} {at}, but the option has lapsed: its Decide by was {by}"
    if check.latest_in < base.first_day:
        return f"{_whole(check)} {at}, which ends before the plan begins"
    if check.earliest_in > base.last_in_day:
        return f"{_whole(check)} {at}, all after the planning period"
    parts = []
    if check.earliest_in < base.first_day:
        setting = cells(where, "Base", "First day", "Value")
        parts.append(f"First day {setting}: Earliest in is {day(check.earliest_in)}")
    if is_cut(check, base):
        setting = cells(where, "Base", "Weeks", "Value")
        parts.append(f"Weeks {setting}: Latest in is {day(check.latest_in)}")
    return f"{text}, cut short by {', and by '.join(parts)}" if parts else text


def _whole(check: Check) -> str:
    return f"in from {day(check.earliest_in)} to {day(check.latest_in)}"


def _says_later(amount: Amount, where: Where) -> str:
    base, number = amount.base, amount.number
    to = day(_moved(base.check(amount.of).latest_in, number))
    at = cells(where, "Checks", amount.of, "Latest in")
    weeks = amount.after.weeks - base.weeks
    setting = cells(where, "Base", "Weeks", "Value")
    more = f", and plan {counted(weeks, 'week')} more {setting}" if weeks > 0 else ""
    return (
        f"bring {amount.of} in up to {days(number)} past its Latest in (by {to}), only with an "
        f"approved extension {at}{more}"
    )


def _says_earlier(amount: Amount, where: Where) -> str:
    to = day(_moved(amount.base.check(amount.of).earliest_in, -amount.number))
    at = cells(where, "Checks", amount.of, "Earliest in")
    return f"let {amount.of} come in {days(amount.number)} earlier, from {to} {at}"


def _says_other_day(amount: Amount, where: Where) -> str:
    fixed_in = amount.base.check(amount.of).fixed_in
    assert fixed_in is not None
    at = cells(where, "Checks", amount.of, "Fixed in")
    word = "later" if amount.number > 0 else "earlier"
    to = day(_moved(fixed_in, amount.number))
    return f"fix {amount.of} {days(abs(amount.number))} {word}, on {to} {at}"


def _says_other_bay(amount: Amount, where: Where) -> str:
    return f"fix {amount.of} in {amount.bay} {cells(where, 'Checks', amount.of, 'Fixed bay')}"


def _says_extended(amount: Amount, where: Where) -> str:
    at = cells(where, "Checks", amount.of, "Latest in")
    return f"have the Latest in of {amount.of} extended by {days(amount.number)} {at}"


def _says_given_up(amount: Amount, where: Where) -> str:
    return f"leave out {amount.of} {cells(where, 'Checks', amount.of, 'Check')}"


def _moved(from_day: date, number: int) -> date:
    return from_day + timedelta(days=number)


LATER = Change("comes in later", 0, _says_later)
EXTENDED = Change("Latest in extended", 1, _says_extended)
OTHER_DAY = Change("other fixed day", 3, _says_other_day)
OTHER_BAY = Change("other fixed bay", 4, _says_other_bay, has_least=False)
EARLIER = Change("comes in earlier", 14, _says_earlier)
GIVEN_UP = Change("left out", 15, _says_given_up, has_least=False)

WINDOW = RuleKind("window", _window_holds, None, _window_helps, asks_for_a_place=True)
FIXED_PLACE = RuleKind("fixed bay and day", _fixed_holds, None, _fixed_helps, asks_for_a_place=True)
LATEST_IN = RuleKind("latest in", _latest_in_holds, None, _latest_in_helps)

WINDOWS = Family(
    name="windows",
    kinds=(WINDOW, FIXED_PLACE, LATEST_IN),
    audited_as=frozenset({"window", "bay that holds it", "every check once"}),
    rules=_rules,
)
