"""The one list of all families of rules."""

from collections.abc import Collection, Iterator

from capacity.facts import Base
from capacity.slots.rules.alone_stages import ALONE_STAGES
from capacity.slots.rules.bay_days import BAY_DAYS
from capacity.slots.rules.closures import CLOSURES
from capacity.slots.rules.days_off import WORKED_DAYS
from capacity.slots.rules.equipment import EQUIPMENT_POOLS
from capacity.slots.rules.family import Family, Packing
from capacity.slots.rules.floor_shared import FLOOR_SHARED
from capacity.slots.rules.held import HELD_CHECKS
from capacity.slots.rules.longest_wait import LONGEST_WAIT
from capacity.slots.rules.moves_on_days_off import DAYS_OF_MOVES
from capacity.slots.rules.period import PLANNING_PERIOD
from capacity.slots.rules.ready_dates import READY_DATES
from capacity.slots.rules.rule import Rule, RuleKind
from capacity.slots.rules.shop_windows import SHOP_WINDOWS
from capacity.slots.rules.ways_clear import WAYS_CLEAR
from capacity.slots.rules.windows import WINDOWS

# Of rules that could be told instead of each other the earlier one is.
FAMILIES: tuple[Family, ...] = (
    WINDOWS,
    BAY_DAYS,
    WAYS_CLEAR,
    FLOOR_SHARED,
    CLOSURES,
    EQUIPMENT_POOLS,
    HELD_CHECKS,
    DAYS_OF_MOVES,
    WORKED_DAYS,
    ALONE_STAGES,
    SHOP_WINDOWS,
    READY_DATES,
    LONGEST_WAIT,
    PLANNING_PERIOD,
)


def families() -> tuple[Family, ...]:
    """Return every family of rules."""
    return FAMILIES


def kinds() -> frozenset[RuleKind]:
    """Return every kind of rule."""
    return frozenset(kind for family in families() for kind in family.kinds)


def packing_families() -> Iterator[tuple[Family, Packing]]:
    """Yield the families that rule by rows of the program, with how they do."""
    for family in families():
        if family.packing is not None:
            yield family, family.packing


def rules_of(base: Base, asked: Collection[str], *, on_time: bool) -> tuple[Rule, ...]:
    """Return the rules that the ``asked`` checks have to keep, those of the checks first.

    With ``on_time`` a fixed check that begins past ``Latest in`` breaks a rule; otherwise
    that is nobody's question.
    """
    checks = [check for check in base.checks if check.name in asked]
    return tuple(rule for family in families() for rule in family.rules(base, checks, on_time))


def lifted(base: Base, packages: Collection[str]) -> Iterator[tuple[Rule, Base]]:
    """Yield each rule about the stays of checks of some packages, and the base without it.

    They change the days of a stay and not who may stand where, so they are no rows of a program:
    what they do is seen by laying the check out once more with one of them lifted.
    """
    for family in families():
        yield from family.lifted(base, packages)


def tied(base: Base, checks: Collection[str]) -> frozenset[str]:
    """Return some checks, and those on which their places depend by some rule."""
    return frozenset(checks).union(*(family.ties(base, checks) for family in families()))
