"""What a re-plan answers; money in the base's currency."""

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.audit import Audit
from capacity.plans.plan import Placement, Plan
from capacity.questions.asking.concerned import Concerned
from capacity.settings import Settings


class What(StrEnum):
    """What is different about a check."""

    NEW = "new"
    CANCELLED = "cancelled"
    PLACED = "placed"
    UNPLACED = "unplaced"
    DAY = "day"
    BAY = "bay"
    STAGES = "stages"


class Cause(StrEnum):
    """Why it is different."""

    NEW = "new"
    CANCELLED = "cancelled"
    FIXED = "fixed"
    SLIPPED = "slipped"
    GREW = "grew"
    SHRANK = "shrank"
    WORK = "work changed"
    LAPSED = "lapsed"
    HELD = "held"
    DAY_OFF = "day off"
    PLACE_GONE = "place gone"
    DISPLACED = "displaced"
    CHEAPER = "cheaper"
    FEWER_DAYS_PAST = "fewer days past"
    PAST_LATEST_IN = "past Latest in"
    IN_THE_WAY = "in the way"
    MADE_ROOM = "made room"


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a check is elsewhere.

    ``by`` are the checks that displace it or take its slots; ``days`` by how many days it grew
    (its stay at the normal pace against the one it had), its window slipped, or its old in day
    is past ``Latest in``; ``man_hours`` by how many it grew; ``money`` what staying would cost
    more.
    """

    cause: Cause
    by: tuple[str, ...] = ()
    days: int = 0
    man_hours: float = 0.0
    money: float = 0.0


@dataclass(frozen=True, slots=True)
class Change:
    """One check that is not as it was.

    ``before`` and ``after`` are its placements, empty where it has none. ``days_moved`` is
    how much later it comes in, negative for earlier. ``move_price`` is what was counted for it
    in the search: no money that anybody pays. ``concerned`` are those who have to be told.
    """

    check: str
    what: tuple[What, ...]
    before: tuple[Placement, ...]
    after: tuple[Placement, ...]
    days_moved: int
    why: tuple[Reason, ...]
    move_price: float
    concerned: Concerned = field(default_factory=Concerned)

    @property
    def saves(self) -> float | None:
        """Return what the plan would cost more without it; None where that is not the reason."""
        saved = [reason.money for reason in self.why if reason.cause is Cause.CHEAPER]
        return sum(saved) if saved else None


@dataclass(frozen=True, slots=True)
class Arrangement:
    """An audited plan with the move prices against the plan before."""

    plan: Plan
    audit: Audit
    move_price: float

    @property
    def money(self) -> float:
        """Return what it costs, move prices left out."""
        return self.audit.goals.money

    @property
    def days_past(self) -> int:
        """Return goal 1, the days past ``Latest in``."""
        return self.audit.goals.days_past_latest_in


@dataclass(frozen=True, slots=True)
class BrokenHold:
    """A check that was due within the freeze window and cannot stay, with the reasons."""

    check: str
    why: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Freeze:
    """What was due from today to ``last``, that day included: who stays, and who cannot."""

    last: date
    held: tuple[str, ...] = ()
    broken: tuple[BrokenHold, ...] = ()


@dataclass(frozen=True, slots=True)
class Replanned:
    """A new plan that moves no more than is worth it.

    ``base`` has those who have begun as the plan holds them; ``found`` is a plan of it.
    ``kept`` is the old arrangement wherever it can still stand, with everybody else at the
    cheapest place beside it. ``bound`` is a proven lower bound of money and move prices
    together, given no more days past ``Latest in`` than found and what ``freeze`` holds.
    ``notes`` say what a person should know of how the search went.
    """

    base: Base
    today: date
    found: Arrangement
    kept: Arrangement
    changes: tuple[Change, ...]
    begun: tuple[str, ...]
    freeze: Freeze
    bound: float | None
    gap: float | None
    stopped_by: str
    seconds: float
    notes: tuple[Message, ...] = ()
    settings: Settings = field(default_factory=Settings)

    @property
    def plan(self) -> Plan:
        """Return the new plan."""
        return self.found.plan

    @property
    def saved(self) -> float:
        """Return the money by which the new plan is cheaper than the old arrangement."""
        return self.kept.money - self.found.money

    @property
    def days_past_saved(self) -> int:
        """Return by how many days past ``Latest in`` it is better than that."""
        return self.kept.days_past - self.found.days_past
