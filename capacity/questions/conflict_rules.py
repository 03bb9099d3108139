"""The rules of a base in the size in which a person could change them: one row or cell each."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from enum import StrEnum

from capacity.facts import Base, Check, Status
from capacity.slots.bay_ties import floor_sharers


class Kind(StrEnum):
    """What a rule asks."""

    WINDOW = "window"
    FIXED_PLACE = "fixed bay and day"
    LATEST_IN = "latest in"
    ONE_AT_A_TIME = "one aircraft at a time"
    CHANGEOVER = "changeover"
    CLOSURE = "closure"
    WAY = "way"
    FLOOR = "shared floor"
    EQUIPMENT = "equipment"
    OUTAGE = "outage"
    SHOP = "shop"


OF_CHECKS = frozenset({Kind.WINDOW, Kind.FIXED_PLACE})
"""The rules that ask for a place; all others say what stands in its way."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule.

    ``of`` names the check, bay, equipment or shop; ``other`` the bay on the way, or the one
    on the same floor. ``row`` counts the closures or outages of the base from 0.

    A ``WINDOW`` asks that a check comes in from ``Earliest in`` to ``Latest in``, a
    ``FIXED_PLACE`` that it comes into its fixed bay on its fixed day; a check of which
    neither is asked need not come in at all. ``LATEST_IN`` is there for fixed checks only.
    """

    kind: Kind
    of: str
    other: str = ""
    row: int = -1


def rules_of(base: Base, asked: Collection[str], *, on_time: bool) -> tuple[Rule, ...]:
    """Return the rules that the ``asked`` checks have to keep, those of the checks first.

    With ``on_time`` a fixed check that begins past ``Latest in`` breaks a rule; otherwise
    that is nobody's question.
    """
    checks = [check for check in base.checks if check.name in asked]
    return (
        *(rule_of(check) for check in checks),
        *(rule for check in checks if on_time for rule in _latest_in(check)),
        *_of_bays(base),
        *(Rule(Kind.CLOSURE, closure.bay, row=row) for row, closure in enumerate(base.closures)),
        *(Rule(Kind.EQUIPMENT, pool.name) for pool in base.equipment),
        *(
            Rule(Kind.OUTAGE, outage.equipment, row=row)
            for row, outage in enumerate(base.equipment_outages)
        ),
        *(Rule(Kind.SHOP, shop.name) for shop in base.shops),
    )


def rule_of(check: Check) -> Rule:
    """Return the rule that asks for a place for a check."""
    fixed = check.status is Status.FIXED
    return Rule(Kind.FIXED_PLACE if fixed else Kind.WINDOW, check.name)


def _latest_in(check: Check) -> Iterator[Rule]:
    """Yield ``Latest in`` of a fixed check that stands past it; for others it says nothing."""
    if check.fixed_in is not None and check.fixed_in > check.latest_in:
        yield Rule(Kind.LATEST_IN, check.name)


def _of_bays(base: Base) -> Iterator[Rule]:
    for bay in base.bays:
        yield Rule(Kind.ONE_AT_A_TIME, bay.name)
    for bay in base.bays:
        if bay.changeover_days:
            yield Rule(Kind.CHANGEOVER, bay.name)
        if bay.reached_through is not None:
            yield Rule(Kind.WAY, bay.name, bay.reached_through)
    for name, others in floor_sharers(base).items():
        for other in sorted(others):
            if name < other:
                yield Rule(Kind.FLOOR, name, other)
