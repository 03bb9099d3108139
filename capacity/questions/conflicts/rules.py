"""The rules of a base in the size in which a person could change them: one row or cell each."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from capacity.facts import Base, Check, Status
from capacity.slots.candidates.bay_ties import floor_sharers
from capacity.slots.program.program import packing_rules
from capacity.slots.rules import Family
from capacity.slots.rules.bay_days import bay_days
from capacity.slots.rules.equipment import equipment
from capacity.slots.rules.floor_shared import floor_shared
from capacity.slots.rules.shop_windows import shop_windows
from capacity.slots.rules.ways_clear import ways_clear


class Kind(StrEnum):
    """What a rule asks."""

    WINDOW = "window"
    FIXED_PLACE = "fixed bay and day"
    LATEST_IN = "latest in"
    PERIOD = "planning period"
    ONE_AT_A_TIME = "one aircraft at a time"
    CHANGEOVER = "changeover"
    CLOSURE = "closure"
    WAY = "way"
    FLOOR = "shared floor"
    EQUIPMENT = "equipment"
    OUTAGE = "outage"
    SHOP = "shop"
    DAYS_OFF = "days off"
    ALONE = "alone"
    WAIT = "longest wait"
    OTHER = "other rule"
    UNKNOWN = "unknown rule"


OF_CHECKS = frozenset({Kind.WINDOW, Kind.FIXED_PLACE})
"""The rules that ask for a place; all others say what stands in its way."""

KINDS_OF_FAMILY: Mapping[Family, frozenset[Kind]] = {
    bay_days: frozenset({Kind.ONE_AT_A_TIME, Kind.CHANGEOVER}),
    ways_clear: frozenset({Kind.WAY}),
    floor_shared: frozenset({Kind.FLOOR}),
    equipment: frozenset({Kind.EQUIPMENT, Kind.OUTAGE}),
    shop_windows: frozenset({Kind.SHOP}),
}
"""By which rules, a cell or row each, the rows of a family are told.

A family of the program that is not here is told as a whole, as an ``OTHER`` rule.
"""


def other_families() -> dict[str, Family]:
    """Return the families of the program that can only be told as a whole, by name."""
    return {
        family.__name__.replace("_", " "): family
        for family in packing_rules()
        if family not in KINDS_OF_FAMILY
    }


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule.

    ``of`` names the check, bay, equipment or shop; ``other`` the bay on the way, or the one
    on the same floor. ``row`` counts the closures or outages of the base from 0.

    A ``WINDOW`` asks that a check comes in from ``Earliest in`` to ``Latest in``, a
    ``FIXED_PLACE`` that it comes into its fixed bay on its fixed day; a check of which
    neither is asked need not come in at all. ``LATEST_IN`` is there for fixed checks only.
    ``PERIOD`` is that nobody comes in after the weeks that are planned. ``DAYS_OFF``, ``ALONE``
    (``of`` a package, its ``other`` a stage) and ``WAIT`` say how long a check stays. An
    ``OTHER`` rule is one of the program that no row or cell is known for, an ``UNKNOWN`` one
    what keeps checks apart when no rule known does.
    """

    kind: Kind
    of: str
    other: str = ""
    row: int = -1


THE_PERIOD = Rule(Kind.PERIOD, "Weeks")


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
        *(Rule(Kind.OTHER, name) for name in other_families()),
        *_of_period(base, checks),
    )


def rule_of(check: Check) -> Rule:
    """Return the rule that asks for a place for a check."""
    fixed = check.status is Status.FIXED
    return Rule(Kind.FIXED_PLACE if fixed else Kind.WINDOW, check.name)


def _latest_in(check: Check) -> Iterator[Rule]:
    """Yield ``Latest in`` of a fixed check that stands past it; for others it says nothing."""
    if check.fixed_in is not None and check.fixed_in > check.latest_in:
        yield Rule(Kind.LATEST_IN, check.name)


def _of_period(base: Base, checks: Collection[Check]) -> Iterator[Rule]:
    """Yield the planning period where it cuts the window of one of the checks."""
    if any((check.fixed_in or check.latest_in) > base.last_in_day for check in checks):
        yield THE_PERIOD


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
