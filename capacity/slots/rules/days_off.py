"""Work goes on only on the days on which the base works: checks stay longer over days off."""

from collections.abc import Collection, Iterator
from dataclasses import replace

from capacity.cells import Where, cells
from capacity.facts import EVERY_WEEKDAY, Base
from capacity.slots.rules.family import Family
from capacity.slots.rules.rule import Rule, RuleKind, nothing_helps
from capacity.words import listed


def _lifted(base: Base, packages: Collection[str]) -> Iterator[tuple[Rule, Base]]:
    """Yield the days off, and the base that works every day."""
    closed = any(own.worked is False for own in base.calendar_days)
    if base.working_weekdays != EVERY_WEEKDAY or base.holidays is not None or closed:
        every_day = base.replace(
            working_weekdays=EVERY_WEEKDAY,
            holidays=None,
            calendar_days=tuple(replace(own, worked=None) for own in base.calendar_days),
        )
        yield Rule(DAYS_OFF, "Working days"), every_day


def _holds(rule: Rule, base: Base, where: Where) -> str:
    closed = any(own.worked is False for own in base.calendar_days)
    others = base.holidays is not None or closed
    named = [
        f"{name} {cells(where, 'Base', name, 'Value')}"
        for name, rules in (
            ("Working days", base.working_weekdays != EVERY_WEEKDAY or not others),
            ("Holidays", base.holidays is not None),
        )
        if rules
    ]
    for number, own in enumerate(base.calendar_days, start=1):
        if own.worked is False:
            at = cells(where, "Base calendar", f"#{number}", "From", "To")
            named.append(f"Base calendar {at}")
    return f"the base does not work every day: {listed(named)}"


DAYS_OFF = RuleKind("days off", _holds, None, nothing_helps)

WORKED_DAYS = Family(
    name="days off", kinds=(DAYS_OFF,), audited_as=frozenset({"stages"}), lifted=_lifted
)
