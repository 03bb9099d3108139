"""Small bases with a little of everything, drawn from a source of chance.

``random.Random(seed)`` gives the same base for a seed; Hypothesis hands in a source of its own.
"""

from dataclasses import replace
from datetime import date, time, timedelta
from random import Random

from capacity.facts import (
    Absence,
    AircraftType,
    Base,
    Bay,
    Check,
    Closure,
    Crew,
    Employment,
    Package,
    Pattern,
    Shift,
    Skill,
    Stage,
    Status,
)

ALL_DAYS, SIX_DAYS, FIVE_DAYS = frozenset(range(7)), frozenset(range(6)), frozenset(range(5))
SKILLS = ("Airframe", "Avionics")
# (span m, length m, tail m, docking)
TYPES = {"Narrow": (30.0, 30.0, 10.0, None), "Docked": (30.0, 30.0, 10.0, "left dock")}
TYPES |= {"Wide": (60.0, 60.0, 17.0, None)}
PATTERNS = {"Daily": ("D",), "Week": ("D",) * 5 + (None,) * 2, "Mixed": ("D", "D", "N", None, None)}


def small_base(rng: Random) -> Base:
    """Two or three bays, four to six checks, two or three weeks over the turn of a year."""
    return _base(rng, bays=rng.randint(2, 3), checks=rng.randint(4, 6), window=6, delay=4)


def tiny_base(rng: Random) -> Base:
    """Few enough ways to place everything that all of them can be tried."""
    return _base(rng, bays=rng.randint(1, 2), checks=rng.randint(2, 3), window=3, delay=2)


def _base(rng: Random, bays: int, checks: int, window: int, delay: int) -> Base:
    first_day = date(2026, 12, 19) + timedelta(days=rng.randint(0, 16))
    weeks = rng.randint(2, 3)
    packages = tuple(_package(rng, f"P{number}") for number in range(rng.randint(1, 3)))
    bays_ = _bays(rng, bays)
    fitting = [name for name in TYPES if any(_holds(bay, name) for bay in bays_)]
    booked = tuple(
        _check(rng, f"C{number}", first_day, rng.choice(packages), window, fitting)
        for number in range(checks)
    )
    return Base(
        name="Random",
        first_day=first_day,
        weeks=weeks,
        skills=tuple(_skill(rng, name) for name in SKILLS),
        bays=bays_,
        types=tuple(AircraftType(name, *size) for name, size in TYPES.items()),
        packages=packages,
        checks=_settled(rng, booked, bays_, first_day),
        crews=_crews(rng, first_day),
        patterns=tuple(Pattern(name, cycle) for name, cycle in PATTERNS.items()),
        shifts=(Shift("D", time(6), 8.0), Shift("N", time(22), 9.5, night=True)),
        closures=_closures(rng, bays_, first_day),
        absences=_absences(rng, first_day),
        working_weekdays=rng.choice([ALL_DAYS, SIX_DAYS, FIVE_DAYS]),
        holidays=rng.choice([None, "GB", "DE-BY"]),
        longest_delay_days=rng.randint(0, delay),
        overload_cost=float(rng.choice([200, 500])),
    )


def _skill(rng: Random, name: str) -> Skill:
    """Overtime may be cheaper than contract labour, or dearer."""
    overtime, contract = float(rng.randint(30, 80)), float(rng.randint(30, 80))
    caps = [0.0, 0.1, 0.25]
    return Skill(name, overtime, rng.choice(caps), contract, rng.choice(caps))


def _package(rng: Random, name: str) -> Package:
    """One to four stages, some side by side, hours that one or both skills are asked."""
    stages: list[Stage] = []
    for number in range(rng.randint(1, 4)):
        earlier = [stage.name for stage in stages]
        asked = rng.sample(SKILLS, rng.randint(0, 2))
        stages.append(
            Stage(
                name=f"S{number}",
                work="maintenance",
                days=rng.randint(1, 3),
                man_hours={skill: float(rng.randint(5, 60)) for skill in asked},
                after=tuple(rng.sample(earlier, rng.randint(0, min(2, len(earlier))))),
                findings=rng.choice([0.0, 0.3, 0.7]),
            )
        )
    return Package(name, tuple(stages))


def _bays(rng: Random, count: int) -> tuple[Bay, ...]:
    """Often alike, so that they share a group; the last one may take wide aircraft too."""
    narrow = rng.randint(max(1, count - 1), count)
    alike = rng.choice([True, True, False])
    changeover = rng.randint(0, 2)
    bays = []
    for number in range(count):
        size = TYPES["Wide"] if number >= narrow else TYPES["Narrow"]
        docking = [frozenset[str](), frozenset({"left dock"}), frozenset({"right dock"})]
        bays.append(
            Bay(
                f"B{number}",
                "Hall",
                *size[:3],
                frozenset({"maintenance", "wash"}),
                docking=docking[0] if alike else rng.choice(docking),
                changeover_days=changeover if alike else rng.randint(0, 2),
            )
        )
    return tuple(bays)


def _holds(bay: Bay, type_name: str) -> bool:
    span_m, _, _, docking = TYPES[type_name]
    docked = not bay.docking or docking is None or docking in bay.docking
    return span_m <= bay.max_span_m and docked


def _check(
    rng: Random, name: str, first_day: date, package: Package, window: int, fitting: list[str]
) -> Check:
    """Seldom one that no bay can hold."""
    earliest = first_day + timedelta(days=rng.randint(-3, 9))
    latest = earliest + timedelta(days=rng.randint(0, window))
    agreed = latest + timedelta(days=rng.randint(0, 8))
    return Check(
        name=name,
        aircraft=f"X-{name}",
        type=rng.choice([*fitting, *fitting, *fitting, *TYPES]),
        package=package.name,
        status=rng.choice([Status.BOOKED, Status.BOOKED, Status.BOOKED, Status.OPTION]),
        earliest_in=earliest,
        latest_in=latest,
        wanted_in=rng.choice([None, earliest + timedelta(days=2)]),
        agreed_out=rng.choice([None, agreed]),
        early_cost_per_day=float(rng.randint(0, 4) * 50),
        late_cost_per_day=float(rng.randint(0, 5) * 100),
        price=float(rng.randint(0, 12) * 1000),
        findings_factor=rng.choice([0.5, 1.0, 1.5]),
        remaining=rng.choice([None, None, None, 0.6]),
    )


def _settled(
    rng: Random, checks: tuple[Check, ...], bays: tuple[Bay, ...], first_day: date
) -> tuple[Check, ...]:
    """Fix none, one or two of the checks, as narrow aircraft in the first bay."""
    in_day = first_day + timedelta(days=rng.randint(-6, 4))
    fixed = []
    for check in checks[: rng.randint(0, 2)]:
        fixed.append(
            replace(
                check,
                status=Status.FIXED,
                type="Narrow",
                fixed_bay=bays[0].name,
                fixed_in=in_day,
                remaining=rng.choice([None, 0.25, 0.5, 1.0]),
            )
        )
        in_day += timedelta(days=rng.randint(9, 18))
    return (*fixed, *checks[len(fixed) :])


def _closures(rng: Random, bays: tuple[Bay, ...], first_day: date) -> tuple[Closure, ...]:
    closures = []
    for _ in range(rng.randint(0, 2)):
        first = first_day + timedelta(days=rng.randint(-4, 20))
        last = first + timedelta(days=rng.randint(0, 6))
        closures.append(Closure(rng.choice(bays).name, first, last))
    return tuple(closures)


def _crews(rng: Random, first_day: date) -> tuple[Crew, ...]:
    """A crew a skill, and at times contract people for the second one."""
    begins = first_day - timedelta(days=rng.randint(-3, 9))
    crews = [
        Crew(f"{skill} crew", (skill,), rng.randint(1, 6), rng.choice(list(PATTERNS)), begins)
        for skill in SKILLS
    ]
    if rng.choice([True, False]):
        crews.append(Crew("Guests", SKILLS[1:], 1, "Week", begins, employment=Employment.CONTRACT))
    return tuple(crews)


def _absences(rng: Random, first_day: date) -> tuple[Absence, ...]:
    """Sometimes more people away than there are, which gives nothing and takes nothing."""
    absences = []
    for _ in range(rng.randint(0, 2)):
        first = first_day + timedelta(days=rng.randint(-4, 12))
        last = first + timedelta(days=rng.randint(0, 9))
        crew = f"{rng.choice(SKILLS)} crew"
        absences.append(Absence(crew, first, last, heads=rng.choice([0.5, 1.0, 3.0])))
    return tuple(absences)
