"""What planning several bases answers."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from math import fsum

from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.outcome import OutOfTime, Planned, relative_gap
from capacity.settings import Settings


@dataclass(frozen=True, slots=True)
class Taken:
    """An enquiry with its slot: the base that takes it, its price and the ferry cost, in money."""

    check: str
    at: str
    bay: str
    in_day: date
    out_day: date
    price: float
    ferry_cost: float


@dataclass(frozen=True, slots=True)
class NotTaken:
    """An enquiry that no base takes, with its ``price`` as it is.

    A plan in which the base ``at`` takes it, all other bases as they are, costs the same if it pays
    ``needed_price``, ferry cost included: the lowest that was found, not one proven to be the
    lowest. None where none was found, or none looked for.
    """

    check: str
    price: float
    at: str = ""
    needed_price: float | None = None


@dataclass(frozen=True, slots=True)
class PlanOfBase:
    """What one base does: the ``base`` with the enquiries it takes as options, and its plan.

    Such an option pays its price less the ferry cost. ``earned`` is what all its options pay,
    ``spent`` what the plan costs but for that, both in money.
    """

    name: str
    base: Base
    outcome: Planned
    taken: tuple[Taken, ...]

    @property
    def cost(self) -> float:
        """The cost of the plan."""
        return self.outcome.audit.goals.money

    @property
    def days_past(self) -> int:
        """Days past ``Latest in``."""
        return self.outcome.audit.goals.days_past_latest_in

    @property
    def earned(self) -> float:
        """What its options pay, those of its own and enquiries less their ferry costs."""
        return fsum(account.price for account in self.outcome.audit.accounts)

    @property
    def spent(self) -> float:
        """What the plan costs before its options pay."""
        return self.cost + self.earned


@dataclass(frozen=True, slots=True)
class NetworkPlanned:
    """Audited plans of all bases, each enquiry taken once at the most.

    ``bound`` is proven: no such plans, with as few days past ``Latest in`` at each base, cost less
    in all; ``days_bound`` is how many there must be at the least. ``shared_prices`` are those at
    which the bases were last planned apart from each other. ``stopped_by`` is ``proof``, ``time``,
    ``stop``, or ``fault`` with what broke down in ``faults``.
    """

    bases: tuple[PlanOfBase, ...]
    not_taken: tuple[NotTaken, ...]
    bound: float | None
    days_bound: int
    shared_prices: Mapping[str, float]
    rounds: int
    seconds: float
    stopped_by: str
    settings: Settings
    faults: tuple[str, ...] = ()
    notes: tuple[Message, ...] = ()

    @property
    def taken(self) -> tuple[Taken, ...]:
        """Every enquiry that is taken, base by base."""
        return tuple(taken for one in self.bases for taken in one.taken)

    @property
    def cost(self) -> float:
        """What the plans of all bases cost."""
        return fsum(one.cost for one in self.bases)

    @property
    def days_past(self) -> int:
        """Days past ``Latest in`` of all bases."""
        return sum(one.days_past for one in self.bases)

    @property
    def gap(self) -> float | None:
        """``(cost - bound) / max(1, |cost|)``; None without a bound."""
        return relative_gap(self.cost, self.bound)


@dataclass(frozen=True, slots=True)
class NetworkImpossible:
    """The fixed checks of the base ``at`` cannot stand together; ``why`` is a sentence each."""

    at: str
    why: tuple[str, ...]
    seconds: float


NetworkOutcome = NetworkPlanned | NetworkImpossible | OutOfTime
