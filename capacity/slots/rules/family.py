"""A family of rules as one value: its rows, its words, what would help, and the audit's name.

Everything that has to know the rules of a base goes through the list of families
(``families.py``): the program, the conflicts, why a place is not free, the ways out, and what
one more would be worth.
"""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Check
from capacity.slots.candidates import Columns
from capacity.slots.rules.one_more import OneMore
from capacity.slots.rules.rows import Rows
from capacity.slots.rules.rule import Rule, RuleKind

Mask = NDArray[np.bool_]
Rules = frozenset[Rule]
MakeRows = Callable[[Columns, Base], Rows]
"""Makes the rows of one family over the columns of a base."""


@dataclass(frozen=True, slots=True)
class Blocking:
    """By which ``rows`` the rules ``told`` are seen to be in the way of a place.

    They are said together where none of them alone is broken. Who is met by one of ``hiding``,
    told before, is not told again.
    """

    told: tuple[Rule, ...]
    rows: MakeRows
    hiding: Rules = frozenset()


@dataclass(frozen=True, slots=True)
class Packing:
    """How a family says in rows what the checks may take of something together.

    ``rows`` are those of the program of a plan. To name the rule that conflicts the rows must
    not imply another rule: ``exact`` makes the rows of a part of the rules that say just what
    these say, every bay being a group of its own. ``parts`` takes the rules of the family that
    are asked, and all that are asked, apart into sets that have rows of their own; ``blocking``
    are the rows by which a place is told not to be free. Rows that are many and of which few
    ever bind are ``lazy``: a search takes them in once they are broken.
    """

    rows: MakeRows
    exact: Callable[[Rules, Columns, Base], Rows]
    parts: Callable[[Rules, Rules, Base], Iterator[Rules]]
    blocking: Callable[[Base], Iterator[Blocking]]
    lazy: bool = False


def _no_rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    return iter(())


def _takes_nothing_away(columns: Columns, base: Base) -> Mapping[Rule, Mask]:
    return {}


def _open_already(base: Base) -> Base:
    return base


def _lifts_nothing(base: Base, packages: Collection[str]) -> Iterator[tuple[Rule, Base]]:
    return iter(())


def _ties_nobody(base: Base, checks: Collection[str]) -> frozenset[str]:
    return frozenset()


def _nothing_more(base: Base) -> Iterator[OneMore]:
    return iter(())


@dataclass(frozen=True, slots=True)
class Family:
    """A family of rules.

    ``audited_as`` names the audit's rules that tell a plan that breaks one of these. ``rules``
    yields those of a base that can be left out one by one, for some checks, with ``on_time`` that
    of a fixed check to come in by ``Latest in``. A family rules in one of three ways:

    * by rows, see ``packing``;
    * by taking places away: ``takes_away`` gives the columns that each rule takes, masks of shape
      (columns,), and ``opened`` the base in which they are still there;
    * by how long checks stay: ``lifted`` yields each rule that is in the way of checks of some
      packages, with the base without it.

    ``ties`` are the checks on which the places of some checks depend, so that no base may be
    looked at without them. ``one_more`` yields what there could be one more of.
    """

    name: str
    kinds: tuple[RuleKind, ...]
    audited_as: frozenset[str]
    rules: Callable[[Base, Collection[Check], bool], Iterator[Rule]] = _no_rules
    packing: Packing | None = None
    takes_away: Callable[[Columns, Base], Mapping[Rule, Mask]] = _takes_nothing_away
    opened: Callable[[Base], Base] = _open_already
    lifted: Callable[[Base, Collection[str]], Iterator[tuple[Rule, Base]]] = _lifts_nothing
    ties: Callable[[Base, Collection[str]], frozenset[str]] = _ties_nobody
    one_more: Callable[[Base], Iterator[OneMore]] = _nothing_more
