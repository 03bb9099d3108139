"""What must not change the value of a plan, and what can only better it, with every rule in use."""

import dataclasses
import functools
from dataclasses import replace
from datetime import date, timedelta
from random import Random
from typing import Any

import pytest

import capacity
from capacity.facts import Base
from tests.quick_and_long import some_of
from tests.slots.rich_bases import rich_base

SEEDS = 20, 23, 0, 1, 13  # of each, all variants are proven within seconds
COSTS = ("overtime_cost", "contract_cost", "overload_cost", "early_cost_per_day")
COSTS += ("late_cost_per_day", "price")


@functools.cache
def value_of_seed(seed: int) -> tuple[int, float] | None:
    """Return the value of an unchanged base, which every property begins with."""
    return value(rich_base(Random(seed)))


def value(base: Base) -> tuple[int, float] | None:
    """Return both goals, proven; None where the fixed checks cannot stand together."""
    outcome = capacity.plan(base, capacity.Settings(seconds=30))
    if isinstance(outcome, capacity.Impossible):
        return None
    assert isinstance(outcome, capacity.Planned)
    assert outcome.stopped_by == "proof"
    assert not outcome.faults
    goals = outcome.audit.goals
    return goals.days_past_latest_in, goals.money


def changed(fact: Any, change: Any) -> Any:
    """Rebuild facts through and through: ``change(field name, value)`` gives each leaf."""
    fields = {}
    for field in dataclasses.fields(fact):
        old = getattr(fact, field.name)
        if isinstance(old, tuple) and old and dataclasses.is_dataclass(old[0]):
            fields[field.name] = tuple(changed(part, change) for part in old)
        else:
            fields[field.name] = change(field.name, old)
    return replace(fact, **fields)


def assert_same(seed: int, other: Base, scale: float = 1.0) -> None:
    before, after = value_of_seed(seed), value(other)
    if before is None or after is None:
        assert before == after
        return
    assert after[0] == before[0]
    assert after[1] == pytest.approx(scale * before[1], abs=0.02)


@pytest.mark.parametrize("seed", SEEDS)
def test_shifting_all_dates_by_whole_weeks_changes_nothing(seed: int) -> None:
    base = rich_base(Random(seed))
    later = timedelta(weeks=5)
    assert_same(seed, changed(base, lambda _, old: old + later if isinstance(old, date) else old))


@pytest.mark.parametrize("seed", SEEDS)
def test_scaling_all_costs_scales_the_money(seed: int) -> None:
    base = rich_base(Random(seed))
    assert_same(seed, changed(base, lambda name, old: 3 * old if name in COSTS else old), scale=3)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_rows_changes_nothing(seed: int) -> None:
    base = rich_base(Random(seed))
    names = ("bays", "types", "packages", "checks", "crews", "equipment", "skills", "shop_loops")
    assert_same(seed, base.replace(**{name: getattr(base, name)[::-1] for name in names}))


def richer(base: Base, rng: Random) -> list[Base]:
    """Return bases that have more of one thing each.

    A faster shop is not among them: stages start as early as they may, and items that are
    back sooner can push a stage into a dearer week.
    """
    crew = rng.choice(base.crews)
    more_skilled = replace(crew, skills=tuple(dict.fromkeys((*crew.skills, "Airframe", "Engine"))))
    on_all = replace(crew, types=frozenset())
    crews = [
        tuple(other if one is crew else one for one in base.crews)
        for other in (more_skilled, on_all)
    ]
    return [
        base.replace(closures=()),
        base.replace(equipment_outages=()),
        base.replace(equipment=tuple(replace(e, number=e.number + 1) for e in base.equipment)),
        base.replace(longest_wait_days=base.longest_wait_days + 1),
        *(base.replace(crews=some) for some in crews),
    ]


@pytest.mark.parametrize("seed", some_of(SEEDS, quick=2))
def test_having_more_never_makes_the_optimum_dearer(seed: int) -> None:
    rng = Random(seed)
    base = rich_base(rng)
    before = value_of_seed(seed)
    for number, more in enumerate(richer(base, rng)):
        after = value(more)
        if before is not None:
            assert after is not None, number
            assert after[0] <= before[0], number
            assert after[0] < before[0] or after[1] <= before[1] + 0.02, number
