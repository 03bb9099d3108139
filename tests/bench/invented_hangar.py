"""An invented hangar where everything is shared that can be. Nothing in it is a real base."""

import math
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

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
    Shop,
    ShopLoop,
    Status,
)
from tests.bench.invented_checks import booked_checks
from tests.bench.invented_hangar_packages import (
    PAINT,
    REPAINTED_INSIDE,
    beside,
    hangar_loops,
    hangar_packages,
    inside,
    is_base_check,
    last,
    structural,
)
from tests.bench.invented_parts import (
    DAY_SHIFT,
    FIRST_DAY,
    MIX,
    PACKAGES,
    PATTERNS,
    TYPES,
    bay_of,
    crews_for,
    package_of,
    skill_of,
)

WEEKS = 13
MAINTENANCE = ["Albatross 300"] * 2 + ["Heron 180"] * 7 + ["Plover 70"] * 4
# Bay 9 and bay 10 stand on one floor, so that one of them is lost to the bay-days there are.
ON_ONE_FLOOR = "Bay 9", "Bay 10"
BEHIND, IN_FRONT = "Bay 13", "Bay 12"
PAINT_BAY = "Paint"
DOCKING = {"Plover 70": "narrow dock", "Heron 180": "narrow dock", "Albatross 300": "wide dock"}
CHECKS, OPTIONS = 60, 4
# How many base checks become something longer, of which types, and what.
CHANGES = (
    (2, ("Heron 180",), structural),
    (1, ("Plover 70",), structural),
    (3, REPAINTED_INSIDE, inside),
    (5, ("Plover 70", "Heron 180"), last),
)
# A shop can turn round twice what it would if all items lay evenly over the weeks: they do not.
SHOP_SPARE = 2.0
# What people can do beside their own skill, and the types that they are authorised on.
CREWS_CHANGED = {
    "airframe north": {"skills": ("airframe", "cabin")},
    "cabin south": {"skills": ("cabin", "airframe")},
    "avionics north": {"skills": ("avionics", "engine")},
    "avionics south": {"types": frozenset({"Plover 70", "Heron 180"})},
    "engine south": {
        "skills": ("engine", "avionics"),
        "types": frozenset({"Heron 180", "Albatross 300"}),
    },
}
AGENCY = Crew(
    "structures agency",
    ("structures",),
    heads=2,
    pattern="office week",
    starts_cycle_on=FIRST_DAY,
    employment=Employment.CONTRACT,
)


def invented_hangar(seed: int) -> Base:
    """Return a quarter of 13 maintenance bays and a paint bay, 56 booked checks and 4 options.

    About four fifths of the maintenance bay-days are asked for. Some checks go to paint and
    some of those come back; jack sets, tail docks and two shops are shared; crews have
    several skills or only some types.
    """
    rng = np.random.default_rng(seed)
    packages = hangar_packages()
    without_floor = [size for number, size in enumerate(MAINTENANCE) if number != 9]
    plain = [package_of(name) for name in PACKAGES]
    booked = booked_checks(rng, without_floor, plain, CHECKS, WEEKS, heavy_share=0.0)
    checks = _with_options(rng, _with_changes(rng, booked, packages), packages)
    loops = hangar_loops()
    skills = (*MIX, PAINT)
    return Base(
        name=f"Invented hangar {seed}",
        first_day=FIRST_DAY,
        weeks=WEEKS,
        skills=tuple(skill_of(name, rng) for name in skills),
        bays=(*_maintenance_bays(), _paint_bay()),
        types=tuple(AircraftType(name, *TYPES[name], docking=DOCKING[name]) for name in TYPES),
        packages=packages,
        checks=checks,
        crews=_crews(rng, checks, packages, skills),
        patterns=PATTERNS,
        shifts=(DAY_SHIFT,),
        closures=_closures(rng),
        equipment=(Equipment("jack set", 3), Equipment("tail dock", 2)),
        equipment_outages=_outages(rng),
        shops=_shops(checks, loops),
        shop_loops=loops,
        longest_wait_days=3,
    )


def _with_changes(
    rng: np.random.Generator, checks: Iterable[Check], packages: Iterable[Package]
) -> list[Check]:
    """Turn some base checks into structural or repainted ones, to be out so much later."""
    days = {p.name: sum(stage.days for stage in p.stages if not beside(stage)) for p in packages}
    changed = list(checks)
    for count, sizes, rename in CHANGES:
        plain = [
            number
            for number, check in enumerate(changed)
            if is_base_check(check.package) and check.type in sizes
        ]
        for number in rng.choice(plain, size=count, replace=False):
            check = changed[number]
            package = rename(check.package)
            later = timedelta(days=days[package] - days[check.package] + int(rng.integers(0, 3)))
            agreed = check.agreed_out and check.agreed_out + later
            changed[number] = replace(check, package=package, agreed_out=agreed)
    return changed


def _with_options(
    rng: np.random.Generator, checks: list[Check], packages: Iterable[Package]
) -> tuple[Check, ...]:
    """Make options of some base checks, at a price that pays in a week with hours to spare."""
    hours = {p.name: sum(sum(s.man_hours.values()) for s in p.stages) for p in packages}
    plain = [n for n, check in enumerate(checks) if is_base_check(check.package)]
    offered = list(checks)
    for number in rng.choice(plain, size=OPTIONS, replace=False):
        price = round(hours[offered[number].package] * rng.uniform(5, 25), -2)
        offered[number] = replace(offered[number], status=Status.OPTION, price=float(price))
    return tuple(offered)


def _maintenance_bays() -> tuple[Bay, ...]:
    bays = []
    for number, size in enumerate(MAINTENANCE):
        bay = replace(bay_of(number, size), docking=frozenset({DOCKING[size]}))
        others = frozenset(ON_ONE_FLOOR) - {bay.name} if bay.name in ON_ONE_FLOOR else frozenset()
        way = IN_FRONT if bay.name == BEHIND else None
        bays.append(replace(bay, shares_floor_with=others, reached_through=way))
    return tuple(bays)


def _paint_bay() -> Bay:
    """Return the one bay for paint, which holds all types and is cleaned in between."""
    return replace(
        bay_of(0, "Albatross 300"),
        name=PAINT_BAY,
        hangar="Paint hangar",
        work=frozenset({PAINT}),
        changeover_days=1,
    )


def _crews(
    rng: np.random.Generator,
    checks: Iterable[Check],
    packages: Iterable[Package],
    skills: tuple[str, ...],
) -> tuple[Crew, ...]:
    crews = crews_for(rng, checks, {p.name: p for p in packages}, WEEKS, skills)
    changed = (replace(crew, **CREWS_CHANGED.get(crew.name, {})) for crew in crews)
    return (*changed, AGENCY)


def _closures(rng: np.random.Generator) -> tuple[Closure, ...]:
    bay = f"Bay {rng.integers(3, 9)}"
    return (
        Closure(bay, *_spell(rng, 4, 9), "floor repair"),
        Closure(PAINT_BAY, *_spell(rng, 3, 6), "new filters"),
    )


def _outages(rng: np.random.Generator) -> tuple[EquipmentOutage, ...]:
    return (
        EquipmentOutage("jack set", *_spell(rng, 5, 10), 1, "load test"),
        EquipmentOutage("tail dock", *_spell(rng, 5, 10), 1, "repair"),
    )


def _spell(rng: np.random.Generator, shortest: int, longest: int) -> tuple[date, date]:
    """Return the first and last day of a spell within the weeks."""
    first = FIRST_DAY + timedelta(days=int(rng.integers(7, 7 * WEEKS - 14)))
    return first, first + timedelta(days=int(rng.integers(shortest, longest)))


def _shops(checks: Iterable[Check], loops: Iterable[ShopLoop]) -> tuple[Shop, ...]:
    """Return the shops, sized in halves of an item a day so that they have a little to spare."""
    asked: dict[str, int] = {}
    packages = [check.package for check in checks]
    for loop in loops:
        items = loop.items * packages.count(loop.package)
        asked[loop.shop] = asked.get(loop.shop, 0) + items
    return tuple(
        Shop(name, math.ceil(2 * SHOP_SPARE * items / (7 * WEEKS)) / 2)
        for name, items in asked.items()
    )
