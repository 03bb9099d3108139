"""A crew plan that stands, and the ways to change one thing in it."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

from capacity.crews.crew_audit import audit_crews
from capacity.crews.crew_plan import Attendance, CrewPlan, StageHours
from capacity.crews.crew_settings import CrewSettings
from capacity.facts import Equipment, Pattern, Shop, ShopLoop
from capacity.plans.plan import Plan
from tests.crews.stories import (
    CERTIFIER,
    EARLY,
    LATE,
    MECHANIC,
    NIGHT,
    SETTINGS,
    base,
    crew,
    day,
    package,
    placed,
    staffed,
    stage,
)

MONDAY = day(0)
HEAVY = package(
    stage("Open", 1, hours=30.0, by_night=False, max_heads=6),
    stage("Work", 2, "Open", man_hours={"Mechanic": 70.0, "Certifier": 8.0}, critical=True),
    stage("Swing", 1, "Open", hours=8.0, equipment=("Jacks",)),
    stage("Close", 1, "Work", "Swing", hours=70.0, alone=True),
)
LIGHT = package(
    stage("Long", 4),
    stage("Remove", 1, hours=4.0),
    stage("Refit", 1, "Remove", hours=4.0),
    stage("Hoist", 1, hours=4.0, equipment=("Jacks",)),
    name="Light",
)
BASE = base(
    [HEAVY, LIGHT],
    [
        crew("Mechanics", 4),
        crew("Certifiers", 2, skills=("Certifier",)),
        crew("Nights", 2, NIGHT.name),
        crew("Hired", 2, contract=True),
        crew("Mondays", 2, "Mondays"),
        crew("Of tankers", 2, types=frozenset({"Tanker"})),
    ],
    skills=(replace(MECHANIC, overtime_cap=0.05), CERTIFIER),
    patterns=(
        *(Pattern(shift.name, (shift.name,)) for shift in (EARLY, LATE, NIGHT)),
        Pattern("Mondays", ("Early", *[None] * 6)),
    ),
    equipment=(Equipment("Jacks", 1),),
    shops=(Shop("Wheels", 9.0),),
    shop_loops=(ShopLoop("Light", "Wheels", 9, "Remove", "Refit"),),
)
PLAN = Plan(
    (
        placed("C1", ("Open", 0, 1), ("Work", 1, 3), ("Swing", 1, 2), ("Close", 3, 4)),
        placed("C2", ("Long", 0, 4), ("Remove", 0, 1), ("Hoist", 0, 1), ("Refit", 2, 3)),
    )
)
RULE: CrewSettings = replace(
    SETTINGS, overtime_hours=2.0, call_in=True, own_staff_share="hold", seconds=30.0
)


@cache
def standing() -> CrewPlan:
    """Return a plan that stands; of C1's closing 70 h the shifts alone cannot give all."""
    settings = {"overtime_hours": 2.0, "call_in": True, "own_staff_share": "hold"}
    return staffed(BASE, *PLAN.placements, **settings).plan


def broken(made: CrewPlan, settings: CrewSettings = RULE) -> str:
    return "\n".join(audit_crews(made, PLAN, BASE, settings).broken)


Chosen = Callable[[Attendance], bool]


def attending(is_it: Chosen, **changes: object) -> CrewPlan:
    """Change the first row of attendance that is chosen."""
    made = standing()
    number = next(n for n, there in enumerate(made.attendance) if is_it(there))
    rows = list(made.attendance)
    rows[number] = replace(rows[number], **changes)
    return replace(made, attendance=tuple(rows))


def working(is_it: Callable[[StageHours], bool], **changes: object) -> CrewPlan:
    """Change the first row of work that is chosen."""
    made = standing()
    number = next(n for n, work in enumerate(made.work) if is_it(work))
    rows = list(made.work)
    rows[number] = replace(rows[number], **changes)
    return replace(made, work=tuple(rows))


def moved(name: str, first: int, until: int, check: str = "C1") -> CrewPlan:
    """Run a stage elsewhere, and its hours with it, on its first day there."""
    made = standing()
    stages = [
        replace(s, first=day(first), until=day(until)) if (s.check, s.stage) == (check, name) else s
        for s in made.stages
    ]
    work = [
        replace(w, day=day(first)) if (w.check, w.stage) == (check, name) else w for w in made.work
    ]
    return replace(made, stages=tuple(stages), work=tuple(work))


def more(*rows: Attendance) -> CrewPlan:
    return replace(standing(), attendance=(*standing().attendance, *rows))


def of(name: str, check: str = "C1") -> Chosen:
    return lambda there: (there.crew, there.check) == (name, check)


# One more mechanic on C1 on the Monday.
EXTRA = Attendance(MONDAY, "Early", "Mechanics", "C1", "Mechanic", 1.0)
