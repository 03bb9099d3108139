"""Why man-hours lie in another week than evenly, in words: what both weeks would have bought."""

from capacity.facts import Base
from capacity.plans.audit import Audit
from capacity.plans.moved_hours import MovedHours
from capacity.plans.plan import WeekLoad
from capacity.reports.plan.wording import bought
from capacity.words import LEAST_HOURS, hours, listed, money

EVEN_DEMAND = "demand, spread evenly"
"""The demand that a week would have in the same slots, were no stage's hours levelled."""


def load_in(audit: Audit, week: str, skill: str) -> WeekLoad | None:
    """Return the man-hours of a week and skill; None where the audit has no such week."""
    return next((load for load in audit.weeks if (load.week, load.skill) == (week, skill)), None)


def hours_bought(load: WeekLoad | None) -> float:
    """Return the man-hours bought on top of regular ones, overload included."""
    return 0.0 if load is None else load.overtime + load.contract + load.overload


def cost_bought(load: WeekLoad | None, base: Base) -> float:
    """Return what the hours on top cost, overload included, in the base's currency."""
    if load is None:
        return 0.0
    skill = base.skill(load.skill)
    return (
        load.overtime * skill.overtime_cost
        + load.contract_paid * skill.contract_cost
        + load.overload * base.overload_cost
    )


def in_words(move: MovedHours) -> str:
    """Return ``put off 120 h to 2027-W02`` or ``brought 120 h forward to 2027-W01``."""
    if move.are_put_off:
        return f"{hours(move.hours)} put off from {move.left} to {move.went_to}"
    return f"{hours(move.hours)} brought forward from {move.left} to {move.went_to}"


def why_moved(move: MovedHours, evenly: Audit, levelled: Audit, base: Base) -> str:
    """Return what the week that the hours left would have bought, and what room the other had.

    Both are figures of the audits, so they speak of the whole week: of this stage's hours and of
    all others that have moved with them.
    """
    return (
        f"{_left(move.left, move.skill, evenly, levelled, base)} "
        f"{_went_to(move.went_to, move.skill, evenly, levelled)}"
    )


def _left(week: str, skill: str, evenly: Audit, levelled: Audit, base: Base) -> str:
    even, now = load_in(evenly, week, skill), load_in(levelled, week, skill)
    if hours_bought(even) < LEAST_HOURS:
        return f"Spread evenly, {week} would have bought nothing either."
    return f"Spread evenly, {week} would have bought {_bought(even, base)}; it buys {_now(now)}."


def _went_to(week: str, skill: str, evenly: Audit, levelled: Audit) -> str:
    even, now = load_in(evenly, week, skill), load_in(levelled, week, skill)
    room = 0.0 if even is None else max(0.0, even.regular - even.demand)
    had = "no room" if room < LEAST_HOURS else f"room for {hours(room)}"
    return f"{week} had {had} within regular hours; it buys {_now(now)}."


def _bought(load: WeekLoad | None, base: Base) -> str:
    if load is None or not bought(load):
        return "nothing"
    kinds = f" ({listed(bought(load))})"
    return f"{hours(hours_bought(load))}{kinds} for {money(cost_bought(load, base), base)}"


def _now(load: WeekLoad | None) -> str:
    return "nothing now" if load is None or not bought(load) else f"{listed(bought(load))} now"


def week_evenly(week: str, skill: str, evenly: Audit, levelled: Audit, base: Base) -> str:
    """Return in a sentence what a week and skill would have bought evenly, and what it buys."""
    even, now = load_in(evenly, week, skill), load_in(levelled, week, skill)
    demand = 0.0 if even is None else even.demand
    return (
        f"Spread evenly, {skill} would have a demand of {hours(demand)} in this week and "
        f"buy {_bought(even, base)}. Levelled, it buys {_bought(now, base)}."
    )
