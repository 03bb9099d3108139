"""A small base with a slot plan to staff; every test says what is different in its own.

Day 0 is Monday 2027-01-04. The base works every day, an attended hour is a man-hour, and no
crew works longer or is called in unless a test says so. Each check stands in a bay of its own.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import time

from capacity.crews.assign import Staffed, assign_crews
from capacity.crews.crew_settings import CrewSettings
from capacity.facts import (
    Absence,
    Base,
    Check,
    Crew,
    Employment,
    Package,
    Pattern,
    Shift,
    Skill,
    Stage,
    Status,
)
from capacity.plans.audit import audit
from capacity.plans.plan import Placement, Plan, StageDays
from tests.bases import BAY, FIRST_DAY, TWIN, day, small_base

EARLY = Shift("Early", time(6), 8.0)
MIDDLE = Shift("Middle", time(10), 8.0)
LATE = Shift("Late", time(14), 8.0)
NIGHT = Shift("Night", time(22), 8.0, night=True)
MECHANIC = Skill("Mechanic", 60.0, 9.0, 80.0, 0.0)
CERTIFIER = Skill("Certifier", 60.0, 9.0, 80.0, 0.0, licence="B1")
SETTINGS = CrewSettings(
    weeks=1, seconds=20.0, seed=1, workers=1, overtime_hours=0.0, call_in=False, parts=1
)


def stage(name: str, days: int, *after: str, **changes: object) -> Stage:
    """One stage of maintenance; mechanics give ``hours``, or whoever ``man_hours`` names."""
    hours = changes.pop("hours", 0.0)
    usual = Stage(name, "maintenance", days, {"Mechanic": hours} if hours else {}, after)
    return replace(usual, **changes)


def crew(name: str, heads: int, pattern: str = "Early", **changes: object) -> Crew:
    """Mechanics who work the same shift every day; ``contract=True`` hires them."""
    employment = Employment.CONTRACT if changes.pop("contract", False) else Employment.EMPLOYED
    usual = Crew(name, ("Mechanic",), heads, pattern, FIRST_DAY, employment=employment)
    return replace(usual, **changes)


def away(crew_name: str, heads: float, *days: int) -> tuple[Absence, ...]:
    """Take heads of a crew away on each of some days."""
    return tuple(Absence(crew_name, day(number), day(number), heads) for number in days)


def base(packages: Iterable[Package], crews: Iterable[Crew], **changes: object) -> Base:
    """Eight weeks of a base that has one bay and one check for each package."""
    packages = tuple(packages)
    names = [f"C{number + 1}" for number in range(len(packages))]
    bay = replace(BAY, work=frozenset({"maintenance", "paint"}))
    usual = small_base(
        skills=(MECHANIC, CERTIFIER),
        bays=tuple(replace(bay, name=f"Bay of {name}") for name in names),
        types=(TWIN, replace(TWIN, name="Tanker")),
        packages=packages,
        checks=tuple(
            Check(name, f"Aircraft {name}", "Twin", package.name, Status.BOOKED, day(0), day(20))
            for name, package in zip(names, packages, strict=True)
        ),
        crews=tuple(crews),
        patterns=tuple(Pattern(s.name, (s.name,)) for s in (EARLY, MIDDLE, LATE, NIGHT)),
        shifts=(EARLY, MIDDLE, LATE, NIGHT),
    )
    return usual.replace(**changes)


def package(*stages: Stage, name: str = "Heavy") -> Package:
    """Stages that belong together."""
    return Package(name, stages)


def placed(check: str, *stages: tuple[str, int, int], out: int | None = None) -> Placement:
    """Put a check into its bay; stages are ``(name, first, until)`` in day numbers."""
    stated = tuple(StageDays(name, day(first), day(until)) for name, first, until in stages)
    last = max(until for _, _, until in stages) if out is None else out
    first = min(first for _, first, _ in stages)
    return Placement(check, f"Bay of {check}", stages[0][0], day(first), day(last), stated)


def staffed(base_: Base, *placements: Placement, **settings: object) -> Staffed:
    """Staff a slot plan that stands; every goal is proven, and the audit finds nothing."""
    plan = Plan(placements)
    assert audit(base_, plan).broken == ()
    result = assign_crews(base_, plan, replace(SETTINGS, **settings))
    assert result.audit.broken == ()
    for reached in result.goals:
        assert reached.bound == reached.value, reached
    assert len(result.goals) == 4
    return result


def one_stage(
    work: Stage,
    crews: Iterable[Crew],
    settings: Mapping[str, object] | None = None,
    **changes: object,
) -> Staffed:
    """Staff one check of one stage that starts on day 0 and cannot move."""
    base_ = base([package(work)], crews, **changes)
    return staffed(base_, placed("C1", (work.name, 0, work.days)), **(settings or {}))


def short(work: Stage, *crews: Crew, **changes: object) -> float:
    """Return the man-hours of one stage from day 0 on that nobody gives."""
    return one_stage(work, crews, **changes).audit.short


def days_of(result: Staffed, name: str, check: str = "C1") -> tuple[int, int]:
    """Return where a crew plan has a stage, from its first day up to its end, in day numbers."""
    (found,) = [s for s in result.plan.stages if (s.check, s.stage) == (check, name)]
    return (found.first - day(0)).days, (found.until - day(0)).days
