"""Work goes on only on the days on which the base works: checks stay longer over days off."""

from collections.abc import Collection, Iterator

from capacity.cells import Where, cells
from capacity.facts import EVERY_WEEKDAY, Base
from capacity.slots.rules.family import Family
from capacity.slots.rules.rule import Rule, RuleKind, nothing_helps


def _lifted(base: Base, packages: Collection[str]) -> Iterator[tuple[Rule, Base]]:
    """Yield the days off, and the base that works every day."""
    if base.working_weekdays != EVERY_WEEKDAY or base.holidays is not None:
        every_day = base.replace(working_weekdays=EVERY_WEEKDAY, holidays=None)
        yield Rule(DAYS_OFF, "Working days"), every_day


def _holds(rule: Rule, base: Base, where: Where) -> str:
    holidays = " and Holidays" if base.holidays is not None else ""
    at = cells(where, "Base", "Working days", "Value")
    return f"the base does not work every day: Working days{holidays} {at}"


DAYS_OFF = RuleKind("days off", _holds, None, nothing_helps)

WORKED_DAYS = Family(
    name="days off", kinds=(DAYS_OFF,), audited_as=frozenset({"stages"}), lifted=_lifted
)
