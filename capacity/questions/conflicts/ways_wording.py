"""A way out of a conflict in a planner's sentence."""

from datetime import timedelta

from capacity.cells import Where, cells, sheet_only
from capacity.facts import Base
from capacity.questions.conflicts.rules import Rule
from capacity.questions.conflicts.values import Change, WayOut
from capacity.words import counted, day, days, money


def way_text(way: WayOut, base: Base, where: Where = sheet_only) -> str:
    """Return what to change, by how much, and what the plan with it comes to."""
    past = f"has {days(way.days_past)} past Latest in and " if way.days_past else ""
    least = ""
    if way.bound is not None and way.money - way.bound > max(1.0, 1e-3 * abs(way.money)):
        least = f", not less than {money(way.bound, base)}"
    return (
        f"{_change(way, base, where)}. The plan found with it {past}costs "
        f"{money(way.money, base)}{least}."
    )


def _change(way: WayOut, base: Base, where: Where) -> str:
    rule, amount = way.rule, way.amount
    fewer = "fewer do not help" if way.is_least else "whether fewer help is not proven"
    match way.change:
        case Change.LATER | Change.EARLIER | Change.OTHER_DAY | Change.EXTENDED:
            return f"{_of_dates(way, base, where)}; {fewer}"
        case Change.OTHER_BAY:
            return f"fix {rule.of} in {way.bay} {cells(where, 'Checks', rule.of, 'Fixed bay')}"
        case Change.GIVEN_UP:
            return f"give up {rule.of} {cells(where, 'Checks', rule.of, 'Check')}"
        case Change.OPENS_SOONER | Change.CLOSES_LATER | Change.OPEN_AGAIN:
            return _of_closure(way, base, where, fewer)
        case Change.SHORTER_CHANGEOVER:
            at = cells(where, "Bays", rule.of, "Changeover days")
            return f"turn {rule.of} round in {days(amount)} less {at}; {fewer}"
        case Change.IN_USE_AGAIN:
            at = cells(where, "Equipment outages", f"#{rule.row + 1}", "From", "To")
            return f"put off the outage of {rule.of} {at}"
        case Change.MORE_EQUIPMENT:
            at = cells(where, "Equipment", rule.of, "Number")
            return f"have {amount} x {rule.of} more {at}; {fewer}"
        case Change.FASTER_SHOP:
            at = cells(where, "Shops", rule.of, "Items per day")
            return f"turn round {counted(amount, 'item')} a day more in {rule.of} {at}; {fewer}"
        case Change.MORE_WEEKS:
            at = cells(where, "Base", "Weeks", "Value")
            return f"plan {counted(amount, 'week')} more {at}; {fewer}"
        case Change.LONGER_WAIT:
            at = cells(where, "Base", "Longest wait days", "Value")
            longest = days(base.longest_wait_days + amount)
            return f"let aircraft wait up to {longest} for a bay or a shop {at}; {fewer}"
        case Change.FURTHER_BAY:
            at = cells(where, "Bays", way.bay, "Bay")
            return f"have one more bay like {way.bay} {at}, with a way of its own"


def _of_dates(way: WayOut, base: Base, where: Where) -> str:
    rule, amount = way.rule, way.amount
    check = next(check for check in base.checks if check.name == rule.of)
    match way.change:
        case Change.LATER:
            to = day(check.latest_in + timedelta(days=amount))
            at = cells(where, "Checks", rule.of, "Latest in")
            return (
                f"let {rule.of} come in {days(amount)} past its Latest in, by {to}, if that can be "
                f"made lawful {at}{_weeks_more(way, base, where)}"
            )
        case Change.EARLIER:
            to = day(check.earliest_in - timedelta(days=amount))
            at = cells(where, "Checks", rule.of, "Earliest in")
            return f"let {rule.of} come in {days(amount)} sooner, from {to} {at}"
        case Change.EXTENDED:
            at = cells(where, "Checks", rule.of, "Latest in")
            return f"have the Latest in of {rule.of} extended by {days(amount)} {at}"
        case _:
            assert check.fixed_in is not None
            to = day(check.fixed_in + timedelta(days=amount))
            at = cells(where, "Checks", rule.of, "Fixed in")
            word = "later" if amount > 0 else "sooner"
            return f"fix {rule.of} {days(abs(amount))} {word}, on {to} {at}"


def _weeks_more(way: WayOut, base: Base, where: Where) -> str:
    more = way.base.weeks - base.weeks
    at = cells(where, "Base", "Weeks", "Value")
    return f", and plan {counted(more, 'week')} more {at}" if more > 0 else ""


def _of_closure(way: WayOut, base: Base, where: Where, fewer: str) -> str:
    rule: Rule = way.rule
    closure = base.closures[rule.row]
    name = f"#{rule.row + 1}"
    match way.change:
        case Change.OPENS_SOONER:
            last = day(closure.last - timedelta(days=way.amount))
            at = cells(where, "Bay closures", name, "To")
            return (
                f"end the closure of {rule.of} {days(way.amount)} sooner, on {last} {at}; {fewer}"
            )
        case Change.CLOSES_LATER:
            first = day(closure.first + timedelta(days=way.amount))
            at = cells(where, "Bay closures", name, "From")
            return (
                f"begin the closure of {rule.of} {days(way.amount)} later, on {first} {at}; {fewer}"
            )
        case _:
            at = cells(where, "Bay closures", name, "From", "To")
            return f"do without the closure of {rule.of} {at}"
