"""Invented packages, skills, bays and crews that the invented bases are made of."""

from collections.abc import Collection, Iterable, Mapping
from datetime import date, time, timedelta

import numpy as np

from capacity.facts import Bay, Check, Closure, Crew, Package, Pattern, Shift, Skill, Stage

FIRST_DAY = date(2027, 1, 4)
MIX = {"airframe": 0.36, "engine": 0.12, "avionics": 0.14, "structures": 0.17, "cabin": 0.13}
MIX |= {"inspection": 0.08}
# Heads against what the whole would ask if it lay evenly over the weeks: two bottleneck
# skills, the others with hours to spare.
TIGHT, ROOMY = (0.95, 1.08), (1.2, 1.6)

DAY_SHIFT = Shift("D", time(6, 30), 10.0)
PATTERNS = (
    Pattern("four on four off", ("D",) * 4 + (None,) * 4),
    Pattern("office week", ("D",) * 5 + (None,) * 2),
)

# (span m, length m, tail m) inside ICAO code letters C, C and E.
TYPES = {"Plover 70": (26.2, 29.9, 9.8), "Heron 180": (35.1, 40.4, 12.1)}
TYPES |= {"Albatross 300": (60.3, 63.7, 17.4)}

# package: type, days by stage, routine man-hours, findings share
PACKAGES = {
    "Plover base check": ("Plover 70", (1, 2, 3, 3, 2, 1), 1500, 0.4),
    "Plover structural check": ("Plover 70", (2, 3, 5, 6, 3, 2), 3600, 0.7),
    "Heron base check": ("Heron 180", (1, 2, 3, 4, 2, 1), 2600, 0.45),
    "Heron structural check": ("Heron 180", (2, 4, 6, 8, 4, 2), 7200, 0.7),
    "Albatross base check": ("Albatross 300", (1, 3, 4, 5, 3, 1), 5200, 0.5),
    "Albatross structural check": ("Albatross 300", (2, 5, 8, 10, 5, 3), 13500, 0.8),
}
STAGES = ("induction", "opening up", "inspection", "rectification", "closing up", "release")
# Share of the routine man-hours by stage, and how much of each skill it takes.
STAGE_SHARE = (0.04, 0.16, 0.24, 0.30, 0.18, 0.08)
STAGE_MIX = {
    "induction": {"airframe": 0.6, "engine": 0.1, "avionics": 0.2, "inspection": 0.1},
    "opening up": {"airframe": 0.6, "engine": 0.1, "cabin": 0.3},
    "inspection": {"inspection": 0.3, "airframe": 0.3, "avionics": 0.2, "structures": 0.2},
    "rectification": {"airframe": 0.3, "structures": 0.35, "avionics": 0.15, "engine": 0.2},
    "closing up": {"airframe": 0.5, "cabin": 0.4, "avionics": 0.1},
    "release": {"airframe": 0.4, "engine": 0.2, "avionics": 0.3, "inspection": 0.1},
}


def package_of(name: str) -> Package:
    """Return a package of six stages in a row, all in a maintenance bay."""
    _, days, routine, findings = PACKAGES[name]
    stages = []
    for number, stage in enumerate(STAGES):
        hours = routine * STAGE_SHARE[number]
        stages.append(
            Stage(
                name=stage,
                work="maintenance",
                days=days[number],
                man_hours={skill: hours * share for skill, share in STAGE_MIX[stage].items()},
                after=STAGES[number - 1 : number] if number else (),
                findings=findings if stage == "rectification" else 0.1,
            )
        )
    return Package(name, tuple(stages))


def skill_of(name: str, rng: np.random.Generator) -> Skill:
    """Return a skill whose contract hours cost more than its overtime."""
    overtime = float(rng.integers(34, 48))
    return Skill(name, overtime, 0.2, overtime + float(rng.integers(18, 35)), 0.15)


def bay_of(number: int, size: str, *, lanes: bool = False) -> Bay:
    """Return a maintenance bay that holds the size and all smaller ones."""
    span, length, tail = TYPES[size]
    hangar = f"Hangar {1 + number // 4}"
    return Bay(
        name=f"Bay {number + 1}",
        hangar=hangar,
        max_span_m=span + 3,
        max_length_m=length + 3,
        max_tail_m=tail + 1.5,
        work=frozenset({"maintenance"}),
        reached_through=f"Bay {number}" if lanes and number % 2 else None,
    )


def closures_of(rng: np.random.Generator, sizes: list[str], weeks: int) -> tuple[Closure, ...]:
    """Close one bay in six for some days."""
    closures = []
    for number in rng.choice(len(sizes), size=max(1, len(sizes) // 6), replace=False):
        first = FIRST_DAY + timedelta(days=int(rng.integers(0, 7 * weeks)))
        last = first + timedelta(days=int(rng.integers(3, 9)))
        closures.append(Closure(f"Bay {number + 1}", first, last, "floor repair"))
    return tuple(closures)


def crews_for(
    rng: np.random.Generator,
    checks: Iterable[Check],
    packages: Mapping[str, Package],
    weeks: int,
    skills: Collection[str] = tuple(MIX),
) -> tuple[Crew, ...]:
    """Two crews a skill on opposite days, sized so that the whole asks what they can give."""
    asked = dict.fromkeys(skills, 0.0)
    for check in checks:
        for stage in packages[check.package].stages:
            factor = 1 + stage.findings * check.findings_factor
            for skill, hours in stage.man_hours.items():
                asked[skill] += hours * factor
    crews = []
    bottlenecks = set(rng.choice(list(skills), size=2, replace=False))
    for skill, hours in asked.items():
        spare = rng.uniform(*(TIGHT if skill in bottlenecks else ROOMY))
        # Each head of a four-on-four-off crew gives 3.5 days of 10 h a week at 75 %.
        heads = hours / ((weeks + 1.5) * 3.5 * 10 * 0.75) * spare
        for half, name in enumerate(("north", "south")):
            crews.append(
                Crew(
                    name=f"{skill} {name}",
                    skills=(skill,),
                    heads=max(1, round(heads / 2)),
                    pattern="four on four off",
                    starts_cycle_on=FIRST_DAY + timedelta(days=4 * half),
                )
            )
    return tuple(crews)
