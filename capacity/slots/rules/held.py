"""A check that is held without being fixed comes in on its day, into its bay."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

import numpy as np

from capacity.cells import Where, cells
from capacity.facts import Base, Check
from capacity.slots.candidates import Columns
from capacity.slots.rules.changes import Amount, Change, Help, OneChange
from capacity.slots.rules.family import Family, Mask
from capacity.slots.rules.rule import Met, Rule, RuleKind
from capacity.words import day


def elsewhere(columns: Columns, base: Base) -> Mapping[Rule, Mask]:
    """Return, for each check that is held, its columns on another day or in another first bay."""
    slots, found = columns.slots, {}
    for number, candidates in enumerate(slots.candidates):
        name = candidates.courses.check.name
        check = base.check(name)
        if not _is_held(check):
            continue
        own = np.flatnonzero(columns.check == number)
        wrong = np.zeros(len(own), dtype=np.bool_)
        if check.held_in is not None:
            wrong |= columns.in_day[own] != slots.calendar.number(check.held_in)
        if check.held_bay is not None:
            right = [n for n, group in enumerate(slots.groups) if check.held_bay in group.bays]
            wrong |= ~np.isin(candidates.groups[:, 0], right)
        mask = np.zeros(len(columns.check), dtype=np.bool_)
        mask[own[wrong]] = True
        found[Rule(HELD, name)] = mask
    return found


def _is_held(check: Check) -> bool:
    return check.held_in is not None or check.held_bay is not None


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    for check in checks:
        if _is_held(check):
            yield Rule(HELD, check.name)


def _let_go(base: Base, names: Collection[str]) -> Base:
    return base.replace(
        checks=tuple(
            replace(check, held_in=None, held_bay=None) if check.name in names else check
            for check in base.checks
        )
    )


def _opened(base: Base) -> Base:
    return _let_go(base, {check.name for check in base.checks})


def _helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Hold the check no longer."""
    yield OneChange(LET_GO, _let_go(base, {rule.of}), days=0)


def _holds(rule: Rule, base: Base, where: Where) -> str:
    check = base.check(rule.of)
    bay = f"in {check.held_bay}" if check.held_bay is not None else ""
    on = f"on {day(check.held_in)}" if check.held_in is not None else ""
    return f"{rule.of} is held {' '.join(filter(None, (bay, on)))} {_at(rule.of, where)}"


def _blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    return f"not where {rule.of} is held {_at(rule.of, where)}"


def _says_let_go(amount: Amount, where: Where) -> str:
    return f"hold {amount.of} no longer {_at(amount.of, where)}"


def _at(check: str, where: Where) -> str:
    return cells(where, "Checks", check, "Held")


LET_GO = Change("no longer held", 4, _says_let_go, has_least=False)

HELD = RuleKind("held", _holds, _blocks, _helps)

HELD_CHECKS = Family(
    name="held checks",
    kinds=(HELD,),
    audited_as=frozenset({"held"}),
    rules=_rules,
    takes_away=elsewhere,
    opened=_opened,
)
