"""Bases of the plainest kind, for examples from outside.

Day 0 is Monday 2027-01-04, the first day of the plan. There is one aircraft type and one kind
of work, a visit is a single stage without man-hours, and the base works every day.
"""

from dataclasses import replace

import capacity
from capacity.facts import (
    Base,
    Bay,
    Check,
    Crew,
    Package,
    Skill,
    Stage,
    Status,
)
from tests.bases import BAY, FIRST_DAY, day, small_base

LONGEST_VISIT_DAYS = 30


def bays(count: int, changeover_days: int = 0) -> tuple[Bay, ...]:
    """Bays that all hold the one type."""
    return tuple(
        replace(BAY, name=f"B{number + 1}", changeover_days=changeover_days)
        for number in range(count)
    )


def visit(name: str, days: int, first: int, last: int, **changes: object) -> Check:
    """Book a visit of ``days`` days that may come in on day ``first`` to ``last``."""
    usual = Check(
        name, f"Aircraft {name}", "Twin", f"{days} days", Status.BOOKED, day(first), day(last)
    )
    return replace(usual, **changes)


def fixed(name: str, days: int, in_day: int, bay: str, **changes: object) -> Check:
    """Fix a visit of ``days`` days in a bay from day ``in_day`` on."""
    usual = visit(name, days, in_day, in_day, status=Status.FIXED)
    return replace(usual, fixed_bay=bay, fixed_in=day(in_day), **changes)


def base(bays_: tuple[Bay, ...], *visits: Check, **changes: object) -> Base:
    """Ten weeks and people enough; a visit may come in a week past its last day."""
    lengths = range(1, LONGEST_VISIT_DAYS + 1)
    usual = small_base(
        name="Textbook",
        weeks=10,
        skills=(Skill("Mechanic", 50.0, 0.0, 70.0, 0.0),),
        bays=bays_,
        packages=tuple(
            Package(f"{days} days", (Stage("Work", "maintenance", days),)) for days in lengths
        ),
        checks=visits,
        crews=(Crew("Day crew", ("Mechanic",), 1, "Daily", FIRST_DAY),),
        longest_delay_days=7,
    )
    return usual.replace(**changes)


def proven(base_: Base) -> capacity.Planned:
    """Plan to the end: both goals are proven to be the least."""
    outcome = capacity.plan(base_, capacity.Settings(seconds=30))
    assert isinstance(outcome, capacity.Planned)
    assert outcome.stopped_by == "proof"
    assert outcome.days_bound == outcome.audit.goals.days_past_latest_in
    return outcome


def in_turn(planned: capacity.Planned) -> str:
    """Return the names of the checks in order of their in days, such as ``1-2-4-3``."""
    placements = sorted(planned.plan.placements, key=lambda placement: placement.in_day)
    return "-".join(placement.check for placement in placements)
