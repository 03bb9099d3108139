"""What planning answers: a plan with its proof, or the reason why there is none."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from capacity.messages import Message
from capacity.plans.audit import Audit
from capacity.plans.day_by_day import DayShortage
from capacity.plans.plan import Plan
from capacity.settings import Settings


@dataclass(frozen=True, slots=True)
class Progress:
    """Where the search stands: ``seconds`` since it began, best money, proven bound.

    ``bound`` is None until one is proven; ``days_past`` is goal 1 of the best plan;
    ``source`` names the side that found the last improvement.
    """

    seconds: float
    days_past: int
    money: float
    bound: float | None
    gap: float | None
    source: str


@dataclass(frozen=True, slots=True)
class DearHours:
    """Man-hours of a skill that would have to be bought in a week, and their money."""

    week: str
    skill: str
    hours: float
    money: float


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why an option is refused.

    A plan that takes it into ``bay`` over ``[in_day, out_day)`` costs as much as the plan
    when it pays ``needed_price``: the lowest price found, not one proven to be the lowest.
    ``labour_money`` of that is for man-hours, most of it in ``dearest_hours``; the checks
    ``moved`` would have to move, and the options ``given_up`` to be refused. Where no place
    was found, ``needed_price`` is None and ``in_the_way`` names who stands in most places.
    """

    check: str
    price: float
    needed_price: float | None
    bay: str = ""
    in_day: date | None = None
    out_day: date | None = None
    labour_money: float = 0.0
    dearest_hours: tuple[DearHours, ...] = ()
    moved: tuple[str, ...] = ()
    given_up: tuple[str, ...] = ()
    in_the_way: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Planned:
    """An audited plan.

    ``bound`` is a proven lower bound of the money of every plan with no more days past
    ``Latest in`` than this one; ``gap`` is ``(money - bound) / max(1, |money|)``.
    ``days_bound`` is a proven lower bound of goal 1. ``stopped_by`` says what ended the
    search: ``proof``, ``time``, ``stop`` or, when it broke down before its time, ``fault``.
    ``history`` are the improvements in turn; ``refusals`` explain the refused options.
    ``day_shortages`` are the hours that fit the weeks but not their days; they are in no goal.
    ``notes`` say what a person should know of how the search went. ``faults`` are what broke
    down on the way, in its own words: the plan stands all the same.
    """

    plan: Plan
    audit: Audit
    bound: float | None
    gap: float | None
    days_bound: int
    seconds: float
    stopped_by: str
    settings: Settings
    versions: Mapping[str, str]
    history: tuple[Progress, ...]
    faults: tuple[str, ...] = ()
    notes: tuple[Message, ...] = ()
    refusals: tuple[Refusal, ...] = ()
    day_shortages: tuple[DayShortage, ...] = ()


@dataclass(frozen=True, slots=True)
class Impossible:
    """The fixed checks cannot stand together; ``why`` is a sentence each."""

    why: tuple[str, ...]
    seconds: float


@dataclass(frozen=True, slots=True)
class OutOfTime:
    """The search was stopped before its first plan was audited."""

    seconds: float


Outcome = Planned | Impossible | OutOfTime


def relative_gap(money: float, bound: float | None) -> float | None:
    """Return ``(money - bound) / max(1, |money|)``, never below 0; None without a bound."""
    if bound is None:
        return None
    return max(0.0, money - bound) / max(1.0, abs(money))
