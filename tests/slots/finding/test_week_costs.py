"""Man-hours of single weeks cost what the whole load costs, and no bound is above it."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.random import Generator, default_rng

from capacity.facts import Base, Employment, Skill
from capacity.labour.supply import Supply
from capacity.slots.finding.week_costs import WeekMoney
from capacity.slots.program.hours import hours_of
from tests.slots.finding.test_shared_hours import any_base, base_of, crew, supply_of

SEEDS = range(12)


def many_crews(rng: Generator) -> Base:
    """Eleven crews of two skills each: more than the cuts can tell apart."""
    names = ["Engine", "Airframe", "Avionics"]
    crews = [
        crew(f"C{n}", *rng.permutation(names)[:2], heads=int(rng.integers(1, 4))) for n in range(11)
    ]
    return base_of(*crews)


def priced_by_skill(rng: Generator) -> Base:
    """Contract people of two skills, whose hours cost differently in each."""
    skills = tuple(
        Skill(name, float(rng.integers(20, 60)), 0.2, float(rng.integers(20, 60)), 0.3)
        for name in ("Engine", "Airframe", "Avionics")
    )
    agency = crew("Agency", "Engine", "Airframe", employment=Employment.CONTRACT)
    return replace(base_of(crew("Own", "Engine", "Avionics"), agency), skills=skills)


def some_load(supply: Supply, rng: Generator) -> np.ndarray:
    busy = rng.random(supply.regular.shape) < 0.7
    return rng.uniform(0, 900, supply.regular.shape) * busy


@pytest.mark.parametrize("make", [any_base, many_crews, priced_by_skill])
@pytest.mark.parametrize("seed", SEEDS)
def test_weeks_add_up_to_the_whole_and_bounds_are_below(make: object, seed: int) -> None:
    rng = default_rng(seed)
    supply = supply_of(make(rng))
    load, hours = some_load(supply, rng), hours_of(supply)
    price, weeks = WeekMoney(hours), np.arange(supply.weeks)
    exact = price.exact(weeks, load)
    assert price.is_exact == hours.cuts.is_exact
    assert exact.sum() == pytest.approx(hours.money(load.ravel()), abs=1e-4)
    assert (price.at_least(weeks, load) <= exact + 1e-6).all()
    if price.is_exact:
        assert price.at_least(weeks, load) == pytest.approx(exact)


def test_a_week_may_be_asked_several_loads() -> None:
    supply = supply_of(priced_by_skill(default_rng(1)))
    price = WeekMoney(hours_of(supply))
    load = some_load(supply, default_rng(2))[:1]
    weeks, loads = np.zeros(3, dtype=np.int64), np.concatenate([load, 2 * load, 0 * load])
    one_by_one = [price.exact(weeks[:1], each[None])[0] for each in loads]
    assert price.exact(weeks, loads) == pytest.approx(one_by_one)


@pytest.mark.parametrize("make", [any_base, many_crews, priced_by_skill])
@pytest.mark.parametrize("seed", SEEDS)
def test_money_rises_faster_the_more_is_asked(make: object, seed: int) -> None:
    """What the last descent leaves out pairs by: increasing differences, of the bound too."""
    rng = default_rng(100 + seed)
    supply = supply_of(make(rng))
    price, weeks = WeekMoney(hours_of(supply)), np.arange(supply.weeks)
    left, one, other = (some_load(supply, rng) / 2 for _ in range(3))
    for money in (price.exact, price.at_least):
        alone = money(weeks, left + one) + money(weeks, left + other) - money(weeks, left)
        assert (money(weeks, left + one + other) >= alone - 1e-4).all()
