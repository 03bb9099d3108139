"""A rule in the size in which a person could change it, one row or cell, and its kind's words."""

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field

from capacity.cells import Where
from capacity.facts import Base
from capacity.slots.rules.changes import Help


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule.

    ``of`` names the check, bay, equipment, shop or package that it is about; ``other`` a second
    one, such as the bay on the way. ``row`` counts the closures or outages of the base from 0.
    """

    kind: "RuleKind"
    of: str
    other: str = ""
    row: int = -1


@dataclass(frozen=True, slots=True)
class Met:
    """Whom a place that breaks a rule meets: the checks, and the bays of the place itself."""

    checks: tuple[str, ...]
    bays: frozenset[str]


HoldsText = Callable[[Rule, Base, Where], str]
BlocksText = Callable[[Rule, Met, Base, Where], str]
Helps = Callable[[Rule, Base, Collection[str]], Iterator[Help]]


@dataclass(frozen=True, slots=True)
class RuleKind:
    """What all rules of a kind have in common: its words, and the changes that would help.

    ``holds`` says a rule as a planner would, with its cells: "one aircraft at a time in B1
    (Bays!A5)". ``blocks`` says that it is in the way of a place: "taken by X"; None for rules
    that take no place away, such as those about how long a check stays. ``helps`` yields the
    single changes of the base that could undo a conflict of some checks, given by name, with the
    rule in it. ``asks_for_a_place`` is so for the rules about a check; all others say what stands
    in its way. With ``bay_helps`` one more bay like the one the rule is ``of`` could help.
    Kinds of one name are the same.
    """

    name: str
    holds: HoldsText = field(compare=False)
    blocks: BlocksText | None = field(compare=False)
    helps: Helps = field(compare=False)
    asks_for_a_place: bool = field(default=False, compare=False)
    bay_helps: bool = field(default=False, compare=False)

    def __str__(self) -> str:
        """Return its name."""
        return self.name


def nothing_helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Yield no change: none of a single cell would help."""
    return iter(())
