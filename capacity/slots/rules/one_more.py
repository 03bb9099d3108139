"""One more of what there is, to see what it would be worth."""

from dataclasses import dataclass, field

from capacity.facts import Base


@dataclass(frozen=True, slots=True)
class More:
    """What there is one more of, and where it stands in the workbook.

    What is likely to gain most is tried first, by ``turn``. ``can_cost`` is so where a plan may
    cost more with it: early days are counted from ``Latest in``. ``is_one`` is not so where all of
    something is changed at once, of which one more would say nothing.
    """

    name: str
    turn: int = field(compare=False)
    sheet: str = field(compare=False)
    column: str = field(compare=False)
    can_cost: bool = field(default=False, compare=False)
    is_one: bool = field(default=True, compare=False)

    def __str__(self) -> str:
        """Return its name."""
        return self.name


@dataclass(frozen=True, slots=True)
class OneMore:
    """A changed base to search anew, and the change in words.

    ``of`` names what is changed; ``row`` counts the closures from 0.
    """

    more: More
    of: str
    what: str
    base: Base
    row: int = -1
    skill: str = ""

    @property
    def about(self) -> frozenset[str]:
        """Return the names by which it can be asked for."""
        return frozenset({self.of, self.skill})
