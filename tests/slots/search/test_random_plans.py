"""Whatever base it is, the plan stands up to the audit and its proof holds."""

from functools import cache
from random import Random

import pytest
from hypothesis import strategies as st

import capacity
from capacity.facts import Base
from capacity.slots.program.first_come import first_come
from tests.bench.invented import invented_quarter
from tests.quick_and_long import holds_for, some_of
from tests.reference.random_bases import small_base
from tests.reference.second_solutions import clash_of_fixed
from tests.slots.building import built

ROUNDING = 1e-6


def assert_stands(planned: capacity.Planned, base: Base) -> None:
    """Audit once more, and hold the answer's figures against the audit and first come."""
    audit = capacity.audit(base, planned.plan)
    assert audit.broken == ()
    assert audit.goals == planned.audit.goals
    days, money = audit.goals.days_past_latest_in, audit.goals.money
    assert planned.days_bound <= days
    assert planned.bound is not None
    assert planned.bound <= money + ROUNDING * max(1.0, abs(money))
    assert planned.gap == pytest.approx((money - planned.bound) / max(1.0, abs(money)), abs=1e-6)
    made = built(base)
    simple_days, simple_money = made.program.cost(first_come(made.program, made.slots))
    assert (days, money) <= (simple_days, simple_money + ROUNDING * max(1.0, abs(money)))


@holds_for(quick=10, long=40, rng=st.randoms(use_true_random=False))
def test_every_small_base_is_planned_or_said_to_be_impossible(rng: Random) -> None:
    base = small_base(rng)
    outcome = capacity.plan(base, capacity.Settings(seconds=30))
    if clash_of_fixed(base):
        assert isinstance(outcome, capacity.Impossible)
        assert outcome.why
    else:
        assert isinstance(outcome, capacity.Planned)
        assert_stands(outcome, base)


@cache
def searched(seed: int) -> tuple[Base, capacity.Planned]:
    """A quarter that is searched by the two sides, and what they come to."""
    base = invented_quarter(seed, bays=6, checks=22, weeks=9)
    planned = capacity.plan(base, capacity.Settings(seconds=5, seed=seed))
    assert isinstance(planned, capacity.Planned)
    return base, planned


SEEDS = pytest.mark.parametrize("seed", some_of([1, 2, 3], quick=1))


@SEEDS
def test_a_quarter_that_the_two_sides_search_stands_too(seed: int) -> None:
    base, planned = searched(seed)
    assert planned.faults == ()
    assert_stands(planned, base)


@SEEDS
def test_the_history_only_gets_better_and_ends_at_the_answer(seed: int) -> None:
    _, planned = searched(seed)
    goals = [(step.days_past, step.money) for step in planned.history]
    assert len(goals) > 1
    assert goals == sorted(goals, reverse=True)
    assert goals[-1] == (
        planned.audit.goals.days_past_latest_in,
        pytest.approx(planned.audit.goals.money),
    )
