"""Invented quarters of any size, from a seed. Nothing in them is a real base or aircraft."""

from dataclasses import replace
from datetime import date, time, timedelta

import numpy as np

from capacity.facts import (
    AircraftType,
    Base,
    Bay,
    Check,
    Closure,
    Crew,
    Package,
    Pattern,
    Shift,
    Skill,
    Stage,
    Status,
)

FIRST_DAY = date(2027, 1, 4)
MIX = {"airframe": 0.36, "engine": 0.12, "avionics": 0.14, "structures": 0.17, "cabin": 0.13}
MIX |= {"inspection": 0.08}
# Heads against what the whole would ask if it lay evenly over the weeks: two bottleneck
# skills, the others with hours to spare.
TIGHT, ROOMY = (0.95, 1.08), (1.2, 1.6)

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


def invented_quarter(
    seed: int, bays: int = 10, checks: int = 38, weeks: int = 13, *, lanes: bool = False
) -> Base:
    """Return a quarter with ``bays`` open bays of three sizes and booked checks only.

    About four fifths of the bay-days are asked for, and a little more than the regular
    man-hours in the middle of the period, so that some weeks are truly overloaded. With
    ``lanes`` every second bay is reached through its neighbour.
    """
    rng = np.random.default_rng(seed)
    wide, narrow = max(1, bays // 5), max(1, bays // 2)
    sizes = ["Albatross 300"] * wide + ["Heron 180"] * narrow
    sizes += ["Plover 70"] * (bays - len(sizes))
    packages = tuple(_package(name) for name in PACKAGES)
    booked = _checks(rng, sizes, packages, checks, weeks)
    return Base(
        name=f"Invented quarter {seed}",
        first_day=FIRST_DAY,
        weeks=weeks,
        skills=tuple(_skill(name, rng) for name in MIX),
        bays=tuple(_bay(number, size, lanes=lanes) for number, size in enumerate(sizes)),
        types=tuple(AircraftType(name, *size) for name, size in TYPES.items()),
        packages=packages,
        checks=booked,
        crews=_crews(rng, booked, {p.name: p for p in packages}, weeks),
        patterns=(
            Pattern("four on four off", ("D",) * 4 + (None,) * 4),
            Pattern("office week", ("D",) * 5 + (None,) * 2),
        ),
        shifts=(Shift("D", time(6, 30), 10.0),),
        closures=_closures(rng, sizes, weeks),
    )


def _package(name: str) -> Package:
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


def _skill(name: str, rng: np.random.Generator) -> Skill:
    overtime = float(rng.integers(34, 48))
    return Skill(name, overtime, 0.2, overtime + float(rng.integers(18, 35)), 0.15)


def _bay(number: int, size: str, *, lanes: bool) -> Bay:
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


def _closures(rng: np.random.Generator, sizes: list[str], weeks: int) -> tuple[Closure, ...]:
    closures = []
    for number in rng.choice(len(sizes), size=max(1, len(sizes) // 6), replace=False):
        first = FIRST_DAY + timedelta(days=int(rng.integers(0, 7 * weeks)))
        last = first + timedelta(days=int(rng.integers(3, 9)))
        closures.append(Closure(f"Bay {number + 1}", first, last, "floor repair"))
    return tuple(closures)


def _checks(
    rng: np.random.Generator,
    sizes: list[str],
    packages: tuple[Package, ...],
    count: int,
    weeks: int,
) -> tuple[Check, ...]:
    length = {p.name: sum(stage.days for stage in p.stages) for p in packages}
    free = {size: sizes.count(size) * 7 * weeks * 0.82 for size in dict.fromkeys(sizes)}
    checks: list[Check] = []
    for number in range(count):
        size = max(free, key=lambda name: free[name] * rng.uniform(0.7, 1.3))
        names = [name for name in PACKAGES if PACKAGES[name][0] == size]
        heavy = free[size] > 0 and rng.random() < 0.35
        package = names[1] if heavy else names[0]
        free[size] -= length[package]
        checks.append(_check(rng, number, size, package, length[package], weeks))
    return _spread(rng, checks, weeks)


def _spread(rng: np.random.Generator, checks: list[Check], weeks: int) -> tuple[Check, ...]:
    """Shift each size's windows so that they lie over the weeks about evenly, as booked."""
    shifted = list(checks)
    for size in sorted({check.type for check in checks}):
        mine = [number for number, check in enumerate(checks) if check.type == size]
        for place, number in enumerate(rng.permutation(mine)):
            share = (place + rng.uniform(0.0, 1.0)) / len(mine)
            latest = FIRST_DAY + timedelta(days=int(6 + share * (7 * weeks - 8)))
            check = checks[number]
            shift = latest - check.latest_in
            shifted[number] = replace(
                check,
                earliest_in=max(FIRST_DAY, check.earliest_in + shift),
                latest_in=latest,
                wanted_in=max(FIRST_DAY, check.wanted_in + shift) if check.wanted_in else None,
                agreed_out=check.agreed_out + shift if check.agreed_out else None,
            )
    return tuple(shifted)


def _check(
    rng: np.random.Generator, number: int, size: str, package: str, days: int, weeks: int
) -> Check:
    third_party = rng.random() < 0.4
    latest = FIRST_DAY + timedelta(days=int(rng.integers(8, 7 * weeks)))
    # A contract names the week, an own aircraft's last lawful day leaves a few.
    window = rng.integers(4, 11) if third_party else rng.integers(10, 29)
    earliest = latest - timedelta(days=int(window))
    wanted = latest - timedelta(days=int(rng.integers(0, 10)))
    agreed = wanted + timedelta(days=days + int(rng.integers(1, 8)))
    return Check(
        name=f"C{number + 1:03d}",
        aircraft=f"X-{chr(65 + number % 26)}{chr(65 + number // 26)}{number % 10}",
        type=size,
        package=package,
        status=Status.BOOKED,
        earliest_in=earliest,
        latest_in=latest,
        customer="guest operator" if third_party else "own fleet",
        third_party=third_party,
        wanted_in=wanted,
        agreed_out=agreed,
        early_cost_per_day=float(rng.integers(1, 9) * 50),
        late_cost_per_day=float(rng.integers(8, 30) * 250 if third_party else 1500),
        findings_factor=float(rng.choice([0.8, 1.0, 1.0, 1.2, 1.5])),
    )


def _crews(
    rng: np.random.Generator, checks: tuple[Check, ...], packages: dict[str, Package], weeks: int
) -> tuple[Crew, ...]:
    """Two crews a skill on opposite days, sized so that the whole asks what they can give."""
    asked = dict.fromkeys(MIX, 0.0)
    for check in checks:
        for stage in packages[check.package].stages:
            factor = 1 + stage.findings * check.findings_factor
            for skill, hours in stage.man_hours.items():
                asked[skill] += hours * factor
    crews = []
    bottlenecks = set(rng.choice(list(MIX), size=2, replace=False))
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
