"""What is answered when checks cannot all be placed in their windows."""

from dataclasses import dataclass

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.slots.rules.changes import Amount, Change
from capacity.slots.rules.rule import Rule


@dataclass(frozen=True, slots=True)
class WayOut:
    """One change with which the checks can all be placed, found by solving and audited.

    ``amount`` is how much it changes: days for dates, changeovers and closures; pieces;
    items a day; 1 for the rest. ``days`` are those that somebody's date gives, by which ways
    out are ranked: for a check given up ``Longest delay days`` + 1. ``is_least`` says that no
    smaller amount does. ``bay`` is the bay moved to. ``base`` is the changed base and ``plan``
    an audited plan of it, with ``days_past`` ``Latest in`` and ``money`` found in a short
    search; ``bound`` is a proven lower bound of the money, given no more days past.
    """

    change: Change
    rule: Rule
    amount: int
    days: int
    is_least: bool
    base: Base
    plan: Plan
    days_past: int
    money: float
    bound: float | None
    bay: str = ""

    def amount_of(self, base: Base) -> Amount:
        """Return what it changes of the ``base`` as it is, and by how much."""
        rule = self.rule
        return Amount(rule.of, rule.row, self.amount, base, self.base, self.bay)

    @property
    def rank(self) -> tuple[bool, int, float]:
        """Return what ways out are ranked by: nothing to be bought, days, then money."""
        return self.change.is_bought, self.days, self.money


@dataclass(frozen=True, slots=True)
class Conflict:
    """Rules that are proven not to hold together, and the single changes that help.

    ``is_smallest`` says that each rule is proven to be needed: without any one of them the
    others can hold. ``ways_out`` are in order of ``WayOut.rank``; each leaves all other
    checks of the question in their windows, but for those in other conflicts. ``not_tried``
    are changes for which there was no time, or no proof either way.
    """

    rules: tuple[Rule, ...]
    is_smallest: bool
    ways_out: tuple[WayOut, ...] = ()
    not_tried: tuple[tuple[Change, Rule], ...] = ()


@dataclass(frozen=True, slots=True)
class FewestDays:
    """The fewest days past ``Latest in`` of all checks together, all rules kept.

    ``late`` are the checks that come in late and by how many days; ``not_placed`` count
    ``Longest delay days`` + 1 each. ``bound`` days are proven to be unavoidable.
    """

    days: int
    bound: int
    late: tuple[tuple[str, int], ...]
    not_placed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Conflicts:
    """Whether the ``asked`` checks can all be placed, and what conflicts where they cannot.

    ``fixed_only`` tells the question: can the fixed checks stand together; otherwise: can all
    fixed and booked checks come in by ``Latest in``. ``possible`` is None where neither was
    proven in time. ``conflicts`` share no check; ``all_told`` says that the checks that are
    in none of them are proven to be possible together. ``fewest_days`` is told for the
    second question when the answer is no. ``left_out`` names the checks in a conflict that
    the search has no place for on some days of their windows, and no rule known says why.
    """

    asked: tuple[str, ...]
    fixed_only: bool
    possible: bool | None
    conflicts: tuple[Conflict, ...] = ()
    all_told: bool = True
    fewest_days: FewestDays | None = None
    left_out: tuple[str, ...] = ()
