"""Small random bases that use every rule at once, over the turn of a year. All is invented.

Maintenance bays A, B behind it, and C on the floor of one of them or behind B; a paint bay P.
``random.Random(seed)`` gives the same base for a seed.
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
    Equipment,
    EquipmentOutage,
    Package,
    Pattern,
    Shift,
    Shop,
    ShopLoop,
    Skill,
    Stage,
    Status,
)

MAINTENANCE, PAINT = "maintenance", "paint"
SKILLS = "Airframe", "Engine", "Avionics"
POOLS = "jack set", "tail dock"
SHOPS = "Wheels", "Seats"
NARROW, DOCKED, WIDE = (
    AircraftType("Narrow", 34, 38, 12),
    AircraftType("Docked", 34, 38, 12, docking="left dock"),
    AircraftType("Wide", 60, 63, 17),
)


def every_rule_base(rng: Random) -> Base:
    """Return two to five checks in two to four bays, within three to six weeks."""
    first_day = date(2026, 12, 14) + timedelta(days=rng.randint(0, 20))
    skills = SKILLS[: rng.randint(2, 3)]
    bays = _bays(rng)
    packages = tuple(_package(rng, name, skills) for name in ("light", "heavy", "painted"))
    checks = [_check(rng, number, first_day) for number in range(rng.randint(3, 5))]
    if rng.random() < 0.5:
        checks[0] = _fixed(rng, checks[0], first_day)
    return Base(
        name="Every rule",
        first_day=first_day,
        weeks=rng.randint(3, 6),
        skills=tuple(_skill(rng, name) for name in skills),
        bays=bays,
        types=(NARROW, DOCKED, WIDE),
        packages=packages,
        checks=tuple(checks),
        crews=_crews(rng, first_day, skills),
        patterns=(Pattern("Week", ("D",) * 5 + (None,) * 2), Pattern("Turns", (*"DDNN", None))),
        shifts=(Shift("D", time(6), 8.0), Shift("N", time(22), 9.5, night=True)),
        closures=tuple(
            Closure(rng.choice(bays[1:]).name, *_spell(rng, first_day, 12, 2)) for _ in range(2)
        ),
        absences=(Absence("Airframe crew", *_spell(rng, first_day, 9, 6), rng.choice([0.5, 2.0])),),
        equipment=tuple(Equipment(name, rng.randint(1, 2)) for name in POOLS),
        equipment_outages=(EquipmentOutage(POOLS[0], *_spell(rng, first_day, 9, 3), 1),),
        shops=tuple(Shop(name, rng.choice([1.0, 1.5, 4.0])) for name in SHOPS),
        shop_loops=tuple(loop for package in packages for loop in _loops(rng, package)),
        working_weekdays=frozenset(range(rng.choice([5, 6, 7]))),
        holidays=rng.choice([None, "GB-SCT", "DE-BY"]),
        productivity=rng.choice([0.8, 1.0]),
        longest_delay_days=rng.randint(1, 2),
        longest_wait_days=rng.randint(0, 2),
        overload_cost=float(rng.choice([150, 400])),
    )


def _spell(rng: Random, first_day: date, latest: int, longest: int) -> tuple[date, date]:
    first = first_day + timedelta(days=rng.randint(0, latest))
    return first, first + timedelta(days=rng.randint(0, longest))


def _skill(rng: Random, name: str) -> Skill:
    """Overtime may be cheaper than contract labour, or dearer."""
    overtime, contract = float(rng.randint(30, 80)), float(rng.randint(30, 80))
    return Skill(name, overtime, rng.choice([0.0, 0.15, 0.3]), contract, rng.choice([0.0, 0.2]))


def _bays(rng: Random) -> tuple[Bay, ...]:
    wide = Bay("", "North", 62, 65, 18, frozenset({MAINTENANCE}))
    a, b, c, p = (
        replace(wide, name=name, changeover_days=rng.choice([0, 0, 1, 2])) for name in "ABCP"
    )
    b = replace(b, reached_through=rng.choice([None, "A", "A"]))
    if rng.random() < 0.4:
        b = replace(b, max_span_m=36, docking=rng.choice([frozenset(), frozenset({"right dock"})]))
    others = rng.choice(["", "B", "BC", "BC", "C"])
    tied_to = "B" if others == "BC" and rng.random() < 0.6 else "A"
    if rng.random() < 0.5:
        c = replace(c, reached_through=tied_to)
    else:
        c = replace(c, shares_floor_with=frozenset(tied_to))
    p = replace(p, work=frozenset({PAINT, MAINTENANCE} if rng.random() < 0.25 else {PAINT}))
    p = replace(p, reached_through=rng.choice([None, None, "A"]))
    return (a, *(bay for bay in (b, c) if bay.name in others), p)


def _package(rng: Random, name: str, skills: tuple[str, ...]) -> Package:
    """Two to four stages; those of a heavy one may run side by side, a painted one moves."""
    kinds = {"light": [MAINTENANCE] * 2, "heavy": [MAINTENANCE] * 4}.get(
        name, rng.choice([[MAINTENANCE, PAINT], [MAINTENANCE, PAINT, MAINTENANCE]])
    )
    stages: list[Stage] = []
    for number, work in enumerate(kinds):
        days = rng.randint(1, 3)
        after = [stages[-1].name] if stages else []
        if name == "heavy" and number > 1:
            after = rng.sample([stage.name for stage in stages], rng.randint(1, 2))
        asked = rng.sample(skills, rng.randint(1, 2))
        stages.append(
            Stage(
                f"S{number}",
                work,
                days,
                {skill: float(rng.randint(5, 60)) for skill in asked},
                tuple(after),
                findings=rng.choice([0.0, 0.4]),
                shortest_days=1 if rng.random() < 0.3 else None,
                longest_days=days + rng.randint(1, 2) if rng.random() < 0.3 else None,
                equipment=tuple(pool for pool in POOLS if rng.random() < 0.3),
                alone=rng.random() < 0.25,
            )
        )
    return Package(name, tuple(stages))


def _loops(rng: Random, package: Package) -> list[ShopLoop]:
    """Send items from a stage, back for one that waits for it; two loops at the most.

    With two moves, one loop and two days of waiting a check has 27 ways to wait.
    """
    pairs = [(before, stage.name) for stage in package.stages for before in stage.after]
    loops = [
        ShopLoop(package.name, rng.choice(SHOPS), rng.randint(1, 5), *rng.choice(pairs))
        for _ in range(rng.choice([0, 1, 1, 2]))
    ]
    return loops[:1] if package.name == "painted" else loops


def _check(rng: Random, number: int, first_day: date) -> Check:
    earliest = first_day + timedelta(days=rng.randint(-2, 10))
    latest = earliest + timedelta(days=rng.randint(0, 4))
    status = rng.choice([Status.BOOKED, Status.BOOKED, Status.OPTION])
    return Check(
        name=f"C{number}",
        aircraft=f"X-{number}",
        type=rng.choice([NARROW, NARROW, DOCKED, WIDE]).name,
        package=rng.choice(["light", "heavy", "painted"]),
        status=status,
        earliest_in=earliest,
        latest_in=max(latest, first_day),
        agreed_out=rng.choice([None, latest + timedelta(days=rng.randint(3, 9))]),
        early_cost_per_day=float(rng.randint(0, 4) * 50),
        late_cost_per_day=float(rng.randint(0, 5) * 100),
        price=float(rng.randint(0, 8) * 500) if status is Status.OPTION else 0.0,
        findings_factor=rng.choice([1.0, 1.5]),
    )


def _fixed(rng: Random, check: Check, first_day: date) -> Check:
    """Let work on a narrow aircraft be under way in bay A, or fix it to come there."""
    in_day = first_day + timedelta(days=rng.randint(-4, 2))
    under_way = in_day < first_day
    return replace(
        check,
        status=Status.FIXED,
        type=NARROW.name,
        price=0.0,
        fixed_bay="A",
        fixed_in=in_day,
        earliest_in=in_day,
        latest_in=in_day + timedelta(days=rng.randint(0, 1)),
        remaining=rng.choice([0.3, 0.6, 0.9]) if under_way else None,
    )


def _crews(rng: Random, first_day: date, skills: tuple[str, ...]) -> tuple[Crew, ...]:
    """A crew of one skill, one of two, one for some types only, and contract people."""
    since = first_day - timedelta(days=rng.randint(0, 6))
    typed = frozenset(rng.sample([NARROW.name, DOCKED.name, WIDE.name], 2))
    crews = [
        Crew("Airframe crew", SKILLS[:1], rng.randint(1, 2), "Week", since),
        Crew("Both", ("Engine", "Airframe"), 1, "Turns", since),
        Crew("Typed", tuple(rng.sample(skills, 2)), 1, "Turns", since, typed),
    ]
    if rng.random() < 0.7:
        hired = tuple(rng.sample(skills, rng.randint(1, 2)))
        types = rng.choice([typed, frozenset[str]()])
        crews.append(Crew("Hired", hired, 1, "Week", since, types, Employment.CONTRACT))
    return tuple(crews)
