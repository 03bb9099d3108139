"""Small random bases that use every rule at once. Everything in them is invented."""

from dataclasses import replace
from datetime import date, time
from random import Random

from capacity.facts import (
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
    Shift,
    Shop,
    ShopLoop,
    Skill,
    Stage,
    Status,
)
from tests.bases import day, small_base

SKILLS = "Engine", "Airframe"
TYPES = "Narrow", "Wide"
POOLS = "jack set", "tail dock"


def rich_base(rng: Random) -> Base:
    """Return two to five checks in four bays, some of them reached through or beside others."""
    packages = tuple(_package(rng, name) for name in ("short", "long", "painted"))
    checks = tuple(_check(rng, number) for number in range(rng.randint(2, 5)))
    return small_base(
        name="Rich",
        weeks=3,
        skills=tuple(_skill(rng, name) for name in SKILLS),
        bays=_bays(rng),
        types=(AircraftType("Narrow", 34, 38, 12), AircraftType("Wide", 60, 63, 17)),
        packages=packages,
        checks=_with_fixed(rng, checks),
        crews=_crews(rng),
        shifts=(Shift("Day", time(6), 8.0),),
        closures=(Closure("B2", day(9), day(9 + rng.randint(0, 2)), "floor"),),
        equipment=tuple(Equipment(name, rng.randint(1, 2)) for name in POOLS),
        equipment_outages=(EquipmentOutage("jack set", day(4), day(6), 1),),
        shops=(Shop("Wheels", rng.choice([1.0, 1.5, 3.0])),),
        shop_loops=tuple(_loops(rng, packages)),
        working_weekdays=frozenset(range(rng.choice([5, 7]))),
        longest_delay_days=2,
        longest_wait_days=rng.randint(0, 2),
    )


def _skill(rng: Random, name: str) -> Skill:
    overtime, contract = rng.choice([(40.0, 60.0), (55.0, 30.0)])
    return Skill(name, overtime, rng.choice([0.0, 0.3]), contract, rng.choice([0.0, 0.2]))


def _bays(rng: Random) -> tuple[Bay, ...]:
    wide = Bay("", "North", 62.0, 65.0, 18.0, frozenset({"maintenance"}))
    bays = [replace(wide, name=f"B{n}", changeover_days=rng.randint(0, 1)) for n in (1, 2, 3)]
    bays[1] = replace(bays[1], reached_through=rng.choice([None, "B1"]))
    bays[2] = replace(bays[2], shares_floor_with=frozenset(rng.choice([(), ("B1",)])))
    both = rng.random() < 0.3
    works = frozenset({"paint", "maintenance"} if both else {"paint"})
    return (*bays, replace(wide, name="P", work=works))


def _package(rng: Random, name: str) -> Package:
    kinds = ["maintenance"] * (2 if name == "short" else 3)
    if name == "painted":
        kinds[1] = "paint"
    stages = []
    for number, kind in enumerate(kinds):
        days = rng.randint(1, 3)
        beside = number == 2 and name == "long" and rng.random() < 0.5
        after = () if number == 0 else (f"S{0 if beside else number - 1}",)
        stages.append(
            Stage(
                f"S{number}",
                kind,
                days,
                {skill: float(rng.randint(0, 60)) for skill in SKILLS},
                after,
                findings=rng.choice([0.0, 0.5]),
                shortest_days=rng.choice([None, 1]),
                longest_days=rng.choice([None, days + 1]),
                equipment=tuple(pool for pool in POOLS if rng.random() < 0.3),
                alone=rng.random() < 0.2,
            )
        )
    return Package(name, tuple(stages))


def _loops(rng: Random, packages: tuple[Package, ...]) -> list[ShopLoop]:
    """Send items from the first stage, back for one that waits for it."""
    loops = []
    for package in packages:
        if rng.random() < 0.7:
            back_for = next(stage.name for stage in package.stages if stage.after == ("S0",))
            loops.append(ShopLoop(package.name, "Wheels", rng.randint(1, 4), "S0", back_for))
    return loops


def _check(rng: Random, number: int) -> Check:
    first = rng.randint(0, 10)
    status = rng.choice([Status.BOOKED, Status.BOOKED, Status.OPTION])
    return Check(
        name=f"C{number}",
        aircraft=f"X-{number}",
        type=rng.choice(TYPES),
        package=rng.choice(["short", "long", "painted"]),
        status=status,
        earliest_in=day(first),
        latest_in=day(first + rng.randint(0, 3)),
        agreed_out=rng.choice([None, day(first + 6)]),
        early_cost_per_day=float(rng.randint(0, 3) * 100),
        late_cost_per_day=float(rng.randint(0, 3) * 100),
        price=float(rng.randint(0, 4000)) if status is Status.OPTION else 0.0,
        findings_factor=rng.choice([1.0, 1.5]),
    )


def _with_fixed(rng: Random, checks: tuple[Check, ...]) -> tuple[Check, ...]:
    """Let the first check be one that is in already, half of the time."""
    if rng.random() < 0.5:
        return checks
    since = rng.randint(-2, 0)
    changes = {"status": Status.FIXED, "fixed_bay": "B1", "fixed_in": day(since), "price": 0.0}
    changes |= {"earliest_in": day(since), "latest_in": day(since)}
    changes |= {"remaining": rng.choice([None, 0.4, 0.8])}
    return replace(checks[0], **changes), *checks[1:]


def _crews(rng: Random) -> tuple[Crew, ...]:
    since = date(2027, 1, 4)
    crews = [
        Crew("E", ("Engine",), rng.randint(1, 2), "Daily", since),
        Crew("A", ("Airframe", "Engine"), rng.randint(1, 2), "Daily", since),
    ]
    if rng.random() < 0.5:
        crews.append(Crew("N", ("Airframe",), 1, "Daily", since, frozenset({"Narrow"})))
    if rng.random() < 0.5:
        skills = rng.choice([("Engine",), ("Engine", "Airframe")])
        crews.append(Crew("X", skills, 1, "Daily", since, frozenset(), Employment.CONTRACT))
    return tuple(crews)
