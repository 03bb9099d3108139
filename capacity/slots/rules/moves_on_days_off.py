"""Aircraft come in, move and leave on days that the base works, where the planner says so."""

from collections.abc import Collection, Iterator, Mapping

from capacity.cells import Where, cells
from capacity.facts import Base, Check
from capacity.slots.candidates import Columns
from capacity.slots.rules.changes import Amount, Change, Help, OneChange
from capacity.slots.rules.family import Family, Mask
from capacity.slots.rules.rule import Met, Rule, RuleKind

SETTING = "Moves on days off"


def comes_in_on_a_day_off(columns: Columns, base: Base) -> Mapping[Rule, Mask]:
    """Return the columns that come in on a day off that is still to come; fixed checks may."""
    if base.comes_in_on_days_off:
        return {}
    calendar = columns.slots.calendar
    off = ~calendar.worked[columns.in_day]
    off &= columns.in_day >= calendar.number(base.work_left_from)
    for number, candidates in enumerate(columns.slots.candidates):
        if base.check(candidates.courses.check.name).fixed_in is not None:
            off &= columns.check != number
    return {COMES_IN: off}


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    if not base.comes_in_on_days_off:
        yield COMES_IN


def _opened(base: Base) -> Base:
    return base.replace(comes_in_on_days_off=True)


def _lifted(base: Base, packages: Collection[str]) -> Iterator[tuple[Rule, Base]]:
    """Yield the base in which aircraft move and leave on days off too."""
    if not base.leaves_on_days_off:
        yield LEAVES, base.replace(leaves_on_days_off=True)


def _helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Let aircraft come in, move and leave on every day."""
    every_day = base.replace(comes_in_on_days_off=True, leaves_on_days_off=True)
    yield OneChange(MOVES_ALLOWED, every_day, days=0)


def _comes_in(rule: Rule, base: Base, where: Where) -> str:
    return f"no aircraft comes in on a day off {_at(where)}"


def _leaves(rule: Rule, base: Base, where: Where) -> str:
    return f"an aircraft keeps its bay over days off, until the next worked day {_at(where)}"


def _blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    return f"a day off, on which no aircraft comes in {_at(where)}"


def _says_allowed(amount: Amount, where: Where) -> str:
    return f"let aircraft come in, move and leave on days off {_at(where)}"


def _at(where: Where) -> str:
    return cells(where, "Base", SETTING, "Value")


MOVES_ALLOWED = Change("moves on days off", 8, _says_allowed, has_least=False)

DAY_OFF_IN = RuleKind("coming in on days off", _comes_in, _blocks, _helps)
DAY_OFF_OUT = RuleKind("leaving on days off", _leaves, None, _helps)
COMES_IN, LEAVES = Rule(DAY_OFF_IN, SETTING), Rule(DAY_OFF_OUT, SETTING)

DAYS_OF_MOVES = Family(
    name="moves on days off",
    kinds=(DAY_OFF_IN, DAY_OFF_OUT),
    audited_as=frozenset({"moves on days off"}),
    rules=_rules,
    takes_away=comes_in_on_a_day_off,
    opened=_opened,
    lifted=_lifted,
)
