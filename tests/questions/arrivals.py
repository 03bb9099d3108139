"""A family of rules that the tool does not have, written by the recipe of DEVELOPERS.md.

Not more than some arrivals a day at the whole base: the tugs are few. One value in one file, and
the audit's own rule beside it; a test registers both.
"""

from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import dataclass, fields

import numpy as np

from capacity.cells import Where, cells
from capacity.facts import Base, Check
from capacity.plans.audit_rules import LaidOut, PlanRule
from capacity.slots.candidates import Columns
from capacity.slots.rules.changes import Amount, Change, FewestOf, Help
from capacity.slots.rules.family import Blocking, Family, Packing
from capacity.slots.rules.one_more import More, OneMore
from capacity.slots.rules.rows import RowMaker, Rows
from capacity.slots.rules.rule import Met, Rule, RuleKind
from capacity.words import counted, listed


@dataclass(frozen=True, slots=True)
class BaseWithTugs(Base):
    """A base at which only so many aircraft come in on a day."""

    arrivals_a_day: int = 1


def with_tugs(base: Base, arrivals_a_day: int = 1) -> BaseWithTugs:
    known = {field.name: getattr(base, field.name) for field in fields(base)}
    return BaseWithTugs(**known, arrivals_a_day=arrivals_a_day)


def arrivals_of_a_day(columns: Columns, base: Base) -> Rows:
    """On no day more aircraft come in than may; those of fixed checks are taken off.

    For every day t::

        sum of x[j] with in[j] = t  <=  arrivals a day - fixed checks that come in on t
    """
    assert isinstance(base, BaseWithTugs)
    maker = RowMaker(len(columns.check))
    fixed = Counter(int(courses.stays.in_day[0]) for courses in columns.slots.settled)
    for day in np.unique(columns.in_day):
        name = f"arrivals on {columns.slots.calendar.date(day)}"
        room = max(0, base.arrivals_a_day - fixed[int(day)])
        maker.add(name, np.flatnonzero(columns.in_day == day), room)
    return maker.rows()


def _exact(part: frozenset[Rule], columns: Columns, base: Base) -> Rows:
    """Return all rows: they say nothing of bays, equipment or shops."""
    return arrivals_of_a_day(columns, base)


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    yield Rule(ARRIVALS, "Arrivals a day")


def _parts(mine: frozenset[Rule], asked: frozenset[Rule], base: Base) -> Iterator[frozenset[Rule]]:
    if mine:
        yield mine


def _blocking(base: Base) -> Iterator[Blocking]:
    for rule in _rules(base, (), False):
        yield Blocking((rule,), arrivals_of_a_day)


def _more(base: Base, number: int) -> Base:
    assert isinstance(base, BaseWithTugs)
    return base.replace(arrivals_a_day=base.arrivals_a_day + number)


def _helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    yield FewestOf(MORE_ARRIVALS, len(checks), lambda number: _more(base, number), days=0)


def _one_more(base: Base) -> Iterator[OneMore]:
    what = "one more arrival a day"
    yield OneMore(ONE_MORE_ARRIVAL, "Arrivals a day", what, _more(base, 1))


def _at(where: Where) -> str:
    return cells(where, "Base", "Arrivals a day", "Value")


def _holds(rule: Rule, base: Base, where: Where) -> str:
    assert isinstance(base, BaseWithTugs)
    return f"at most {counted(base.arrivals_a_day, 'arrival')} a day {_at(where)}"


def _blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    return f"no arrival is left on that day beside {listed(met.checks)} {_at(where)}"


def _says_more(amount: Amount, where: Where) -> str:
    return f"let {amount.number} more aircraft come in on a day {_at(where)}"


MORE_ARRIVALS = Change("more arrivals a day", 10, _says_more)
ONE_MORE_ARRIVAL = More("one more arrival a day", 1, "Base", "Value")

ARRIVALS = RuleKind("arrivals a day", _holds, _blocks, _helps)

TUGS = Family(
    name="arrivals",
    kinds=(ARRIVALS,),
    audited_as=frozenset({"arrivals"}),
    rules=_rules,
    packing=Packing(arrivals_of_a_day, exact=_exact, parts=_parts, blocking=_blocking),
    one_more=_one_more,
)


def _too_many(plan: LaidOut) -> Iterator[str]:
    """On each day, ``arrivals <= arrivals a day``: the audit's own code, in plain dates."""
    assert isinstance(plan.base, BaseWithTugs)
    for day, number in sorted(Counter(stay.in_day for stay in plan.stays).items()):
        if number > plan.base.arrivals_a_day:
            yield f"{number} aircraft come in on {day}, more than {plan.base.arrivals_a_day}."


AUDITED_ARRIVALS = PlanRule("arrivals", _too_many)
