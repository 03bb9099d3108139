"""Changes of a base that could undo a conflict, and the words for them."""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import Enum, auto

from capacity.cells import Where
from capacity.facts import Base


@dataclass(frozen=True, slots=True)
class Amount:
    """What is changed, and by how much.

    ``of`` and ``row`` are those of the rule; ``bay`` is the bay moved to, or the one of which
    there is one more. ``number`` counts days for dates, changeovers and closures, pieces, items a
    day, and is 1 for the rest. ``base`` is the one as it is, ``after`` the one as changed.
    """

    of: str
    row: int
    number: int
    base: Base
    after: Base
    bay: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """What a way out changes, such as "closure ends sooner".

    ``says`` says it with its amount and cells. What helps most often is tried first, by ``turn``,
    so that it is told when time runs out. ``has_least`` is so where a smaller amount could do and
    the sentence says whether one does. ``is_bought`` is what costs money that no sheet of the
    workbook tells. Changes of one name are the same.
    """

    name: str
    turn: int = field(compare=False)
    says: Callable[[Amount, Where], str] = field(compare=False)
    has_least: bool = field(default=True, compare=False)
    is_bought: bool = field(default=False, compare=False)

    def __str__(self) -> str:
        """Return its name."""
        return self.name


@dataclass(frozen=True, slots=True)
class OneChange:
    """One changed base to try. ``days`` are those that somebody's date gives, for the ranking."""

    change: Change
    after: Base
    days: int
    number: int = 1
    bay: str = ""


@dataclass(frozen=True, slots=True)
class FewestOf:
    """The least number from 1 to ``most`` to find, with the base ``after`` so many.

    ``days`` are those that somebody's date gives; None where the number is of days itself.
    """

    change: Change
    most: int
    after: Callable[[int], Base]
    days: int | None = None


class OwnDate(Enum):
    """Which date of a check is moved, by as few days as the search for a place shows."""

    IN_PAST_LATEST = auto()
    IN_BEFORE_EARLIEST = auto()
    FIXED_DAY = auto()


@dataclass(frozen=True, slots=True)
class DateMoved:
    """A date of the check that the rule is of, to be moved by as few days as can be."""

    change: Change
    date: OwnDate


Help = OneChange | FewestOf | DateMoved
"""A change that could help, by how the least of it is found."""
