"""Nobody comes in after the weeks that are planned."""

from collections.abc import Collection, Iterator, Mapping

from capacity.cells import Where, cells
from capacity.facts import Base, Check, weeks_cut_off
from capacity.slots.candidates import Columns
from capacity.slots.rules.changes import Amount, Change, FewestOf, Help
from capacity.slots.rules.family import Family, Mask
from capacity.slots.rules.rule import Met, Rule, RuleKind
from capacity.words import counted, day


def after_the_period(columns: Columns, base: Base) -> Mapping[Rule, Mask]:
    """Return the columns that come in after the last in day, if there are any."""
    after = columns.in_day > columns.slots.calendar.number(base.last_in_day)
    return {THE_PERIOD: after} if after.any() else {}


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    """Yield the planning period where it cuts the window of one of the checks."""
    if any((check.fixed_in or check.latest_in) > base.last_in_day for check in checks):
        yield THE_PERIOD


def _opened(base: Base) -> Base:
    """Plan for all weeks that windows reach beyond the period."""
    return base.replace(weeks=base.weeks + weeks_cut_off(base))


def _helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Plan some weeks more."""

    def longer(weeks: int) -> Base:
        return base.replace(weeks=base.weeks + weeks)

    yield FewestOf(MORE_WEEKS, weeks_cut_off(base, late=False), longer, days=0)


def _holds(rule: Rule, base: Base, where: Where) -> str:
    return (
        f"no check comes in after {day(base.last_in_day)}, the end of the "
        f"{counted(base.weeks, 'week')} planned {_at(where)}"
    )


def _blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    return f"after the planning period {_at(where)}"


def _says_more(amount: Amount, where: Where) -> str:
    return f"plan {counted(amount.number, 'week')} more {_at(where)}"


def _at(where: Where) -> str:
    return cells(where, "Base", "Weeks", "Value")


MORE_WEEKS = Change("more weeks planned", 2, _says_more)

PERIOD = RuleKind("planning period", _holds, _blocks, _helps)
THE_PERIOD = Rule(PERIOD, "Weeks")

PLANNING_PERIOD = Family(
    name="planning period",
    kinds=(PERIOD,),
    audited_as=frozenset({"window"}),
    rules=_rules,
    takes_away=after_the_period,
    opened=_opened,
)
