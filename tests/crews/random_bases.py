"""Random small bases that use every rule of a crew plan, with a slot plan and settings.

A slot plan lays each check into a bay of its own from a random day on. Stages with equipment
may clash with those of another check: then the days are drawn again, from one day more.
"""

from dataclasses import dataclass, replace
from itertools import count
from random import Random

from capacity.crews.crew_settings import CrewSettings
from capacity.facts import (
    Absence,
    Base,
    Check,
    Crew,
    Equipment,
    EquipmentOutage,
    Package,
    Pattern,
    Skill,
    Stage,
)
from capacity.plans.audit import audit
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.plans.stays import StayLayout
from capacity.plans.worked_days import WorkedDays
from tests.crews.stories import EARLY, LATE, MIDDLE, NIGHT, base, crew, day, package, stage

SKILLS = (
    Skill("Mechanic", 60.0, 0.4, 80.0, 0.6),
    Skill("Certifier", 60.0, 0.4, 80.0, 0.0, licence="B1"),
    Skill("Avionics", 60.0, 0.4, 80.0, 0.0, licence="B2"),
)
PATTERNS = (
    *(Pattern(shift.name, (shift.name,)) for shift in (EARLY, MIDDLE, LATE, NIGHT)),
    Pattern("Five on", (*["Early"] * 5, None, None)),
    Pattern("Turns", (*["Late"] * 4, None, *["Night"] * 3, None, None)),
)


@dataclass(frozen=True)
class ToStaff:
    """A slot plan that stands and how to staff it."""

    base: Base
    plan: Plan
    settings: CrewSettings


def to_staff(seed: int) -> ToStaff:
    """Draw one; the same for the same seed."""
    random = Random(seed)
    packages = [_package(random, f"Package {n}") for n in range(random.randint(2, 3))]
    crews = [_crew(random, f"Crew {n}") for n in range(random.randint(3, 5))]
    base_ = base(
        packages,
        crews,
        weeks=8,
        skills=SKILLS,
        patterns=PATTERNS,
        equipment=(Equipment("Jacks", 2),),
        equipment_outages=(EquipmentOutage("Jacks", day(3), day(5), 1),),
        absences=tuple(_absence(random, one) for one in crews),
        productivity=random.choice([1.0, 0.75, 0.8]),
        working_time_rules=random.choice([None, None, "good-practice", "working-time-directive"]),
        working_time_mode="hold",
    )
    base_ = base_.replace(
        bays=tuple(replace(bay, hangar=random.choice(["North", "South"])) for bay in base_.bays),
        working_weekdays=random.choice([frozenset(range(7)), frozenset(range(6))]),
    )
    settings = CrewSettings(
        weeks=random.choice([1, 2, 2]),
        seconds=1.5,
        workers=1,
        overtime_hours=random.choice([0.0, 2.0, 4.0]),
        call_in=random.random() < 0.7,
        own_staff_share=random.choice(["hold", "warn"]),
        parts=random.choice([1, 4]),
    )
    return ToStaff(base_, _plan(random, base_), settings)


def _package(random: Random, name: str) -> Package:
    stages: list[Stage] = []
    most_hours = random.choice([20.0, 60.0])
    # One stage at the most, so that a check by itself can always stand.
    on_jacks = random.randrange(4)
    for number in range(random.randint(2, 4)):
        after = [one.name for one in stages if random.random() < 0.5]
        skills = random.sample([skill.name for skill in SKILLS], random.randint(1, 3))
        stages.append(
            stage(
                f"Stage {number}",
                random.randint(1, 3),
                *after,
                man_hours={skill: random.uniform(1.0, most_hours) for skill in skills},
                critical=random.random() < 0.3,
                by_night=random.random() < 0.7,
                max_heads=random.choice([None, None, 2, 3]),
                alone=random.random() < 0.2,
                equipment=("Jacks",) if number == on_jacks else (),
            )
        )
    return package(*stages, name=name)


def _crew(random: Random, name: str) -> Crew:
    skills = random.sample([skill.name for skill in SKILLS], random.randint(1, 2))
    return crew(
        name,
        random.choice([1, 1, 2, 3, 4]),
        random.choice([*PATTERNS, *PATTERNS[-2:]]).name,
        skills=tuple(skills),
        contract=random.random() < 0.3,
        starts_cycle_on=day(-random.randint(0, 9)),
        types=frozenset({"Tanker"}) if random.random() < 0.1 else frozenset(),
    )


def _absence(random: Random, of: Crew) -> Absence:
    first = random.randint(0, 9)
    heads = random.choice([0.5, 1.0])
    return Absence(of.name, day(first), day(first + random.randint(0, 3)), heads)


def _plan(random: Random, base_: Base) -> Plan:
    layout = StayLayout(base_, WorkedDays(base_))
    for latest in count(4):
        stays = [_placement(layout, check, random.randint(0, latest)) for check in base_.checks]
        plan = Plan(tuple(stays))
        if not audit(base_, plan).broken:
            break
    return plan


def _placement(layout: StayLayout, check: Check, in_day: int) -> Placement:
    stay = layout.lay_out(check, f"Bay of {check.name}", day(in_day))
    stages = tuple(StageDays(one.work.stage, one.first, one.until) for one in stay.stages)
    bay = f"Bay of {check.name}"
    return Placement(check.name, bay, stages[0].stage, stay.in_day, stay.out_day, stages)
