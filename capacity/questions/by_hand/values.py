"""A move by hand and its answer; money in the base's currency."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from capacity.plans.audit import Audit
from capacity.plans.plan import Placement, Plan
from capacity.questions.asking.differences import HoursMore, hours_more
from capacity.questions.compare.two_plans import MoneyPair, money_pairs
from capacity.questions.why.values import Blocker


@dataclass(frozen=True, slots=True)
class HandMove:
    """A check put into a bay, to come in on a day; with neither it is taken off the bays.

    A check that moves between bays comes into ``bay`` first.
    """

    check: str
    bay: str = ""
    in_day: date | None = None

    @property
    def is_off(self) -> bool:
        """Return whether the check is to have no slot."""
        return self.in_day is None


class Limit(StrEnum):
    """What of the check itself, its bay or the plan's days keeps it from a slot."""

    FIXED = "fixed"
    IN_ALREADY = "in already"
    BEFORE_TODAY = "before today"
    LAPSED = "lapsed"
    TOO_EARLY = "before Earliest in"
    BEFORE_THE_PLAN = "before the plan"
    TOO_LATE = "past Latest in"
    AFTER_THE_PLAN = "after the plan"
    BAY = "bay"
    NO_STAY = "no stay"
    AUDIT = "audit"


@dataclass(frozen=True, slots=True)
class OwnLimit:
    """A limit that a move does not keep; ``texts`` are the reasons where there are several."""

    limit: Limit
    texts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HandAnswer:
    """What becomes of the plan with a check moved and all others where they are.

    ``before`` and ``after`` are the placements of the check, empty where it has no slot. Of the
    courses that lead from the day into the bay it is the cheapest legal one; where none is legal
    the one that breaks fewest rules. ``limits`` are those of the check, its bay and the plan's
    days; ``in_the_way`` are the rules broken beside the other checks, with whom they would meet.
    ``plan`` with its ``audit`` has the check there whoever stands there too; None where it could
    not be laid out. ``courses`` counts those that it was chosen from and
    ``priced`` how many of them were priced to the cent.
    """

    move: HandMove
    before: tuple[Placement, ...]
    after: tuple[Placement, ...]
    limits: tuple[OwnLimit, ...]
    in_the_way: tuple[Blocker, ...]
    plan_before: Plan
    audit_before: Audit
    plan: Plan | None
    audit: Audit | None
    courses: int = 0
    priced: int = 0

    @property
    def is_legal(self) -> bool:
        """Return whether the plan with the move keeps every rule; only then it can be kept."""
        return self.audit is not None and not self.limits and not self.in_the_way

    @property
    def is_there_already(self) -> bool:
        """Return whether the check is in that slot already, on the same days at each stage."""
        without = [tuple(p.without_hours() for p in stay) for stay in (self.before, self.after)]
        return without[0] == without[1]

    @property
    def money(self) -> tuple[MoneyPair, ...]:
        """Return days past ``Latest in``, each kind of money and all of it, before and after."""
        return () if self.audit is None else money_pairs(self.audit_before, self.audit)

    @property
    def costs_more(self) -> float | None:
        """Return what the plan costs more; if it is not legal, what it would if it were."""
        if self.audit is None:
            return None
        return self.audit.goals.money - self.audit_before.goals.money

    @property
    def hours(self) -> tuple[HoursMore, ...]:
        """Return the weeks and skills in which other hours are bought, overload among them."""
        return () if self.audit is None else hours_more(self.audit_before, self.audit)

    @property
    def days_past(self) -> tuple[int, int]:
        """Return the check's days past ``Latest in`` before and after; without a slot 0."""
        return self._days("days_past_latest_in")

    @property
    def late_days(self) -> tuple[int, int]:
        """Return the check's days late out before and after; without a slot 0."""
        return self._days("late_days")

    def _days(self, what: str) -> tuple[int, int]:
        accounts = [
            None if audit is None else audit.by_check().get(self.move.check)
            for audit in (self.audit_before, self.audit)
        ]
        first, second = (0 if a is None else int(getattr(a, what)) for a in accounts)
        return first, second
