"""Invented bases and aircraft that any of them may take, from a seed. Nothing in them is real."""

from dataclasses import replace

import numpy as np

from capacity.facts import Check, Network, Package, SharedEnquiry, Status
from tests.bench.invented import invented_quarter
from tests.bench.invented_checks import booked_checks
from tests.bench.invented_parts import TYPES

# Money for a routine man-hour: some enquiries pay their overtime at most bases, others at none.
PRICE_PER_HOUR = (5.0, 20.0)
FERRY_COST = (2_000.0, 15_000.0)


def invented_network(
    seed: int,
    bases: int = 5,
    bays: int = 10,
    checks: int = 250,
    shared: int = 30,
    weeks: int = 17,
) -> Network:
    """Return bases of ``bays`` bays with ``checks`` in all, ``shared`` of them asked everywhere.

    The others are booked, about as many at each base. In 17 weeks 50 checks a base take about four
    fifths of its bay-days, as 38 do in a quarter.
    """
    own = (checks - shared) // bases
    quarters = {
        f"Base {number + 1}": invented_quarter(
            100 * seed + number, bays, own + (number < (checks - shared) % bases), weeks
        )
        for number in range(bases)
    }
    first = next(iter(quarters.values()))
    rng = np.random.default_rng(seed)
    hours = {package.name: _hours(package) for package in first.packages}
    sizes = [size for size in TYPES for _ in range(bays)]
    enquiries = []
    for number, check in enumerate(booked_checks(rng, sizes, first.packages, shared, first.weeks)):
        option = _as_option(check, number, hours[check.package] * rng.uniform(*PRICE_PER_HOUR))
        ferries = {name: float(round(rng.uniform(*FERRY_COST), -2)) for name in quarters}
        enquiries.append(SharedEnquiry(option, ferries))
    return Network(quarters, tuple(enquiries))


def _hours(package: Package) -> float:
    return sum(sum(stage.man_hours.values()) for stage in package.stages)


def _as_option(check: Check, number: int, price: float) -> Check:
    return replace(
        check,
        name=f"E{number + 1:03d}",
        aircraft=f"Y-{number + 1:03d}",
        status=Status.OPTION,
        customer="guest operator",
        third_party=True,
        price=float(round(price, -2)),
    )
