"""A small base to tell stories about; every test says what is different in its own.

Day 0 is Monday 2027-01-04, the first day of the plan. The base works every day, has one bay
that takes the one aircraft type, and people enough that nothing is ever bought.
"""

from dataclasses import replace

from capacity.facts import (
    Base,
    Check,
    Crew,
    Package,
    Skill,
    Stage,
    Status,
)
from capacity.plans.audit import Audit, audit
from capacity.plans.plan import Placement, Plan, StageDays
from tests.bases import FIRST_DAY, day, small_base

MON_TO_FRI = frozenset(range(5))

MECHANIC = Skill(
    "Mechanic", overtime_cost=60.0, overtime_cap=0.2, contract_cost=80.0, contract_cap=0.25
)
PLENTY = Crew("Plenty", ("Mechanic",), heads=1000, pattern="Daily", starts_cycle_on=FIRST_DAY)


def stage(name: str, days: int, *after: str, hours: float = 0.0, findings: float = 0.0) -> Stage:
    """One stage of maintenance that asks the mechanics for ``hours``."""
    return Stage(name, "maintenance", days, {"Mechanic": hours} if hours else {}, after, findings)


def package(*stages: Stage, name: str = "Heavy") -> Package:
    """Stages that belong together."""
    return Package(name, stages)


TEN_DAYS = package(stage("Work", 10), name="Ten days")


def check(name: str = "C1", **changes: object) -> Check:
    """Book a twin that may come in on days 5 to 10 and stays ten days."""
    usual = Check(name, f"Aircraft {name}", "Twin", "Ten days", Status.BOOKED, day(5), day(10))
    return replace(usual, **changes)


def base(*checks: Check, **changes: object) -> Base:
    """Eight weeks of one bay; five days of delay at most."""
    usual = small_base(
        skills=(MECHANIC,),
        packages=(TEN_DAYS,),
        checks=checks or (check(),),
        crews=(PLENTY,),
        longest_delay_days=5,
    )
    return usual.replace(**changes)


def placed(
    name: str, in_day: int, *stages: tuple[str, int, int], bay: str = "B1", out: int | None = None
) -> Placement:
    """Put a check into a bay; without stages, the ten days of ``Work`` from its in day.

    Stages are ``(name, first, until)`` in day numbers; the last ``until`` is the out day.
    """
    spans = stages or (("Work", in_day, in_day + 10),)
    stated = tuple(StageDays(stage, day(first), day(until)) for stage, first, until in spans)
    last = max(until for _, _, until in spans) if out is None else out
    return Placement(name, bay, spans[0][0], day(in_day), day(last), stated)


def plan(
    *placements: Placement, not_placed: tuple[str, ...] = (), refused: tuple[str, ...] = ()
) -> Plan:
    """Placements in turn, and the checks without one."""
    return Plan(placements, not_placed, refused)


def audited(base_: Base, *placements: Placement) -> Audit:
    """Audit a plan that is expected to break no rule."""
    result = audit(base_, plan(*placements))
    assert result.broken == ()
    return result
