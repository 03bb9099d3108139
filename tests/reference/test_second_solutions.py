"""The same optimum from a second solution, put together from the facts on its own.

Source: ``scipy.optimize.milp`` over a program of its own, and for the smallest bases all
ways tried one by one; both in this folder and in plain dates.
"""

from random import Random

import pytest

import capacity
from capacity.facts import Base
from tests.quick_and_long import some_of
from tests.reference.news_bases import with_news
from tests.reference.random_bases import small_base, tiny_base
from tests.reference.second_solutions import best_by_milp, best_by_trying, clash_of_fixed
from tests.reference.stories import proven


def planned_or_none(base: Base) -> capacity.Planned | None:
    """Plan to the end; None when the fixed checks are in each other's way, which is told."""
    if clash_of_fixed(base):
        assert isinstance(capacity.plan(base), capacity.Impossible)
        return None
    return proven(base)


@pytest.mark.parametrize("seed", some_of(range(50), quick=25))
def test_a_second_program_finds_the_same_optimum(seed: int) -> None:
    base = small_base(Random(seed))
    if planned := planned_or_none(base):
        days, money = best_by_milp(base)
        assert planned.audit.goals.days_past_latest_in == days
        assert planned.audit.goals.money == pytest.approx(money, rel=2e-6, abs=0.01)


@pytest.mark.parametrize("seed", some_of(range(30), quick=15))
def test_a_second_program_finds_the_same_optimum_with_news(seed: int) -> None:
    rng = Random(seed)
    base = with_news(rng, small_base(rng))
    if planned := planned_or_none(base):
        days, money = best_by_milp(base)
        assert planned.audit.goals.days_past_latest_in == days
        assert planned.audit.goals.money == pytest.approx(money, rel=2e-6, abs=0.01)


@pytest.mark.parametrize("seed", some_of(range(30), quick=15))
def test_trying_everything_finds_the_same_optimum_with_news(seed: int) -> None:
    rng = Random(seed)
    base = with_news(rng, tiny_base(rng))
    if planned := planned_or_none(base):
        days, money = best_by_trying(base)
        assert planned.audit.goals.days_past_latest_in == days
        assert planned.audit.goals.money == pytest.approx(money, rel=2e-6, abs=0.01)


@pytest.mark.parametrize("seed", some_of(range(40), quick=20))
def test_trying_everything_finds_the_same_optimum(seed: int) -> None:
    base = tiny_base(Random(seed))
    if planned := planned_or_none(base):
        days, money = best_by_trying(base)
        assert planned.audit.goals.days_past_latest_in == days
        assert planned.audit.goals.money == pytest.approx(money, rel=2e-6, abs=0.01)
