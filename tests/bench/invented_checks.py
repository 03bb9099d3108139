"""Invented checks, booked over the weeks of an invented base."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta

import numpy as np

from capacity.facts import Check, Package, Status
from tests.bench.invented_parts import FIRST_DAY, PACKAGES


def booked_checks(
    rng: np.random.Generator,
    sizes: list[str],
    packages: Iterable[Package],
    count: int,
    weeks: int,
    heavy_share: float = 0.35,
) -> tuple[Check, ...]:
    """Book checks until about four fifths of the bay-days of each size are asked for.

    ``heavy_share`` of them are structural checks while there is room; what is over then
    comes as base checks.
    """
    length = {p.name: sum(stage.days for stage in p.stages) for p in packages}
    free = {size: sizes.count(size) * 7 * weeks * 0.82 for size in dict.fromkeys(sizes)}
    checks: list[Check] = []
    for number in range(count):
        size = max(free, key=lambda name: free[name] * rng.uniform(0.7, 1.3))
        names = [name for name in PACKAGES if PACKAGES[name][0] == size]
        heavy = free[size] > 0 and rng.random() < heavy_share
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
