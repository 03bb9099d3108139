"""What one more bay, head or day is worth: the answer to "is it worth having?"."""

from dataclasses import dataclass

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.slots.rules.one_more import More


@dataclass(frozen=True, slots=True)
class Searched:
    """The best audited plan that a search found; what is proven of it.

    ``bound`` is of the money of plans with no more days past ``Latest in``, ``days_bound``
    of those days.
    """

    plan: Plan
    days_past: int
    money: float
    bound: float | None
    days_bound: int

    @property
    def has_fewest_days(self) -> bool:
        """Return whether fewer days past are proven impossible."""
        return self.days_past <= self.days_bound


@dataclass(frozen=True, slots=True)
class Worth:
    """One change, and what the plan gains by it in a search of the same time.

    ``of`` names the bay that is had once more, the crew, the check, or the bay that is
    closed; ``row`` counts the closures from 0. ``saves_days`` are days past ``Latest in``
    less and come first; ``saves`` is money less, its own price not taken off: what a bay or
    a head costs is not in the workbook. ``least`` and ``most`` are proven bounds of what it
    saves when both plans are searched to the end, where both have the same, proven fewest
    days past; else None.
    """

    more: More
    of: str
    what: str
    base: Base
    after: Searched
    saves_days: int
    saves: float
    least: float | None
    most: float | None
    row: int = -1


@dataclass(frozen=True, slots=True)
class Worths:
    """The changes by what they are worth, and the search without any that they are held to.

    ``now_days`` and ``now_money`` are of the plan that was asked about. ``not_tried`` had no
    time, or no place for the plan.
    """

    now_days: int
    now_money: float
    without: Searched
    worths: tuple[Worth, ...]
    not_tried: tuple[str, ...]
