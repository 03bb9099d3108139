"""An invented base to staff: twelve aircraft in work, sixteen crews, three shifts, four weeks.

All names and figures are made up.
"""

from datetime import date, time, timedelta

import numpy as np

from capacity.facts import (
    AircraftType,
    Base,
    Bay,
    Check,
    Crew,
    Package,
    Pattern,
    Shift,
    Skill,
    Stage,
    Status,
)

FIRST_DAY = date(2027, 3, 1)
WORK = frozenset({"maintenance"})
AIRCRAFT, LOAD = 12, 0.75
EARLY, LATE, NIGHT = "early", "late", "night"
# Seven days early, seven late, seven nights: five on and two off each.
ROTATING = (*[EARLY] * 5, None, None, *[LATE] * 5, None, None, *[NIGHT] * 5, None, None)
SKILLS = (
    Skill("Airframe", 45.0, 0.15, 60.0, 0.1, "B1"),
    Skill("Avionics", 47.0, 0.15, 62.0, 0.1, "B2"),
    Skill("Structures", 44.0, 0.15, 58.0, 0.1),
    Skill("Cabin", 38.0, 0.15, 50.0, 0.1),
)
# Share of a check's man-hours by skill, stage by stage.
STAGES = (
    ("Opening", (), 2, (0.5, 0.1, 0.2, 0.2), 0.10, {}),
    ("Inspection", ("Opening",), 4, (0.6, 0.3, 0.1, 0.0), 0.15, {"critical": True}),
    ("Structure", ("Inspection",), 8, (0.2, 0.0, 0.8, 0.0), 0.25, {}),
    ("Systems", ("Inspection",), 5, (0.5, 0.5, 0.0, 0.0), 0.18, {}),
    ("Cabin", ("Opening",), 6, (0.0, 0.1, 0.0, 0.9), 0.17, {}),
    ("Gear swing", ("Systems",), 1, (0.9, 0.1, 0.0, 0.0), 0.02, {"by_night": False}),
    ("Closing", ("Structure", "Gear swing", "Cabin"), 3, (0.6, 0.1, 0.1, 0.2), 0.09, {}),
    ("Test", ("Closing",), 1, (0.5, 0.5, 0.0, 0.0), 0.04, {"critical": True, "alone": True}),
)


def invented_crews(seed: int) -> Base:
    """Return a base whose checks all stand, a bay each, coming in over the first ten days."""
    chance = np.random.default_rng(seed)
    heads = {"Airframe": 5, "Avionics": 4, "Structures": 4, "Cabin": 3}
    names = [name for name, count in heads.items() for _ in range(count)]
    crews = tuple(
        Crew(
            name=f"Crew {number + 1}",
            skills=(skill,) if chance.random() < 0.75 else (skill, _other(skill, chance)),
            heads=int(chance.integers(10, 15)),
            pattern="rotating",
            starts_cycle_on=FIRST_DAY - timedelta(days=7 * (number % 3)),
        )
        for number, skill in enumerate(names)
    )
    hours = _hours_of_a_check(crews)
    return Base(
        name=f"Invented base to staff {seed}",
        first_day=FIRST_DAY,
        weeks=4,
        skills=SKILLS,
        bays=tuple(
            Bay(
                f"Bay {n + 1}", f"Hangar {n // 4 + 1}", 40.0, 45.0, 14.0, frozenset({"maintenance"})
            )
            for n in range(AIRCRAFT)
        ),
        types=(AircraftType("Twin", 35.0, 38.0, 12.0),),
        packages=tuple(_package(n, hours * chance.uniform(0.85, 1.15)) for n in range(AIRCRAFT)),
        checks=tuple(_check(n, int(chance.integers(0, 10))) for n in range(AIRCRAFT)),
        crews=crews,
        patterns=(Pattern("rotating", ROTATING),),
        shifts=(
            Shift(EARLY, time(6), 7.5),
            Shift(LATE, time(14), 7.5),
            Shift(NIGHT, time(22), 7.5, night=True),
        ),
    )


def _other(skill: str, chance: np.random.Generator) -> str:
    return str(chance.choice([s.name for s in SKILLS if s.name != skill]))


def _hours_of_a_check(crews: tuple[Crew, ...]) -> float:
    """Return the man-hours that load the crews over the three weeks of a check."""
    there = sum(crew.heads for crew in crews) * 5 * 7.5 * 0.75 * 4
    return LOAD * there / AIRCRAFT


def _package(number: int, hours: float) -> Package:
    return Package(
        f"Check {number + 1}",
        tuple(
            Stage(
                name=name,
                work="maintenance",
                days=days,
                man_hours={
                    skill.name: round(hours * share * part, 1)
                    for skill, part in zip(SKILLS, parts, strict=True)
                    if part
                },
                after=after,
                **extra,
            )
            for name, after, days, parts, share, extra in STAGES
        ),
    )


def _check(number: int, delay: int) -> Check:
    in_day = FIRST_DAY + timedelta(days=delay)
    return Check(
        name=f"C{number + 1}",
        aircraft=f"Aircraft {number + 1}",
        type="Twin",
        package=f"Check {number + 1}",
        status=Status.FIXED,
        earliest_in=in_day,
        latest_in=in_day,
        fixed_bay=f"Bay {number + 1}",
        fixed_in=in_day,
    )
