"""Invented quarters and years of any size, from a seed. Nothing in them is a real base."""

import numpy as np

from capacity.facts import AircraftType, Base
from tests.bench.invented_checks import booked_checks
from tests.bench.invented_parts import (
    DAY_SHIFT,
    FIRST_DAY,
    MIX,
    PACKAGES,
    PATTERNS,
    TYPES,
    bay_of,
    closures_of,
    crews_for,
    package_of,
    skill_of,
)


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
    packages = tuple(package_of(name) for name in PACKAGES)
    booked = booked_checks(rng, sizes, packages, checks, weeks)
    return Base(
        name=f"Invented quarter {seed}",
        first_day=FIRST_DAY,
        weeks=weeks,
        skills=tuple(skill_of(name, rng) for name in MIX),
        bays=tuple(bay_of(number, size, lanes=lanes) for number, size in enumerate(sizes)),
        types=tuple(AircraftType(name, *size) for name, size in TYPES.items()),
        packages=packages,
        checks=booked,
        crews=crews_for(rng, booked, {p.name: p for p in packages}, weeks),
        patterns=PATTERNS,
        shifts=(DAY_SHIFT,),
        closures=closures_of(rng, sizes, weeks),
    )


def invented_year(seed: int) -> Base:
    """Return 52 weeks of 14 open bays and 220 booked checks, made as a quarter is."""
    year = invented_quarter(seed, bays=14, checks=220, weeks=52)
    return year.replace(name=f"Invented year {seed}")
