"""Recompute everything about a plan from the facts, and say which rules it breaks."""

from dataclasses import dataclass
from datetime import date

from capacity.facts import Base
from capacity.plan.plan import Goals, Plan, WeekLoad


@dataclass(frozen=True, slots=True)
class CheckAccount:
    """What one placed check costs by itself, and how it keeps its dates.

    Days are counts, money is in the base's currency; ``man_hours`` are those asked from
    the first day of the plan on.
    """

    check: str
    bay: str
    in_day: date
    out_day: date
    days_past_latest_in: int
    early_days: int
    late_days: int
    early_money: float
    late_money: float
    price: float
    man_hours: float


@dataclass(frozen=True, slots=True)
class Audit:
    """The plan's goals, its man-hours by week and skill, and every rule it breaks.

    ``weeks`` are in order of week and then of the base's skills, from the week of the first
    day to the week of the last out day. ``broken`` is empty for a plan that stands.
    """

    goals: Goals
    weeks: tuple[WeekLoad, ...]
    accounts: tuple[CheckAccount, ...]
    overtime_money: float
    contract_money: float
    overload_money: float
    broken: tuple[str, ...]


def audit(plan: Plan, base: Base) -> Audit:
    """Return what the plan comes to and every rule of the base that it breaks."""
    raise NotImplementedError
