"""More people or more bays never make the best plan dearer.

Source: Graham, Bounds for Certain Multiprocessing Anomalies, 1966, and Bounds on
Multiprocessing Timing Anomalies, 1969: a list rule may end later with one machine more. A
proven optimum must not, since every old plan still stands.
"""

from dataclasses import replace
from random import Random

import pytest
from hypothesis import assume
from hypothesis import strategies as st

from capacity.facts import Base
from tests.quick_and_long import holds_for
from tests.reference import stories
from tests.reference.random_bases import small_base
from tests.reference.second_solutions import clash_of_fixed
from tests.reference.stories import day, proven, visit
from tests.reference.test_tiers_by_hand import week_that_asks

# The money of two optima that are each proven to a relative gap of a millionth.
ROUNDING = 2e-6


def goals_of(base: Base) -> tuple[int, float]:
    """Return the proven least days past, and the least money at that."""
    goals = proven(base).audit.goals
    return goals.days_past_latest_in, goals.money


def with_one_more_head(base: Base, crew: int) -> Base:
    crews = list(base.crews)
    crews[crew] = replace(crews[crew], heads=crews[crew].heads + 1)
    return base.replace(crews=tuple(crews))


def with_one_more_bay(base: Base, like: int) -> Base:
    """Add a bay like one there is, but never closed and with nothing fixed in it."""
    return base.replace(bays=(*base.bays, replace(base.bays[like], name="One more")))


def assert_not_dearer(more: tuple[int, float], before: tuple[int, float]) -> None:
    assert more[0] <= before[0]
    if more[0] == before[0]:
        assert more[1] <= before[1] + ROUNDING * max(1.0, abs(before[1]))


@holds_for(quick=6, long=25, rng=st.randoms(use_true_random=False), data=st.data())
def test_one_more_head_in_any_crew(rng: Random, data: st.DataObject) -> None:
    base = small_base(rng)
    assume(not clash_of_fixed(base))
    crew = data.draw(st.integers(0, len(base.crews) - 1), label="crew")
    assert_not_dearer(goals_of(with_one_more_head(base, crew)), goals_of(base))


@holds_for(quick=6, long=25, rng=st.randoms(use_true_random=False), data=st.data())
def test_one_more_bay_of_any_kind(rng: Random, data: st.DataObject) -> None:
    base = small_base(rng)
    assume(not clash_of_fixed(base))
    like = data.draw(st.integers(0, len(base.bays) - 1), label="like")
    assert_not_dearer(goals_of(with_one_more_bay(base, like)), goals_of(base))


def test_one_more_head_saves_the_overload_it_does() -> None:
    # 10 people give 700 of 1000 hours and overtime of 50 and contract of 150 with them; 11
    # give 770, 55 and 165, so 10 hours are left over: overload falls from 100 to 10 hours.
    before, more = week_that_asks(1000), with_one_more_head(week_that_asks(1000), 0)
    assert goals_of(before) == (0, pytest.approx(50 * 50 + 150 * 70 + 100 * 500))
    assert goals_of(more) == (0, pytest.approx(55 * 50 + 165 * 70 + 10 * 500))


def test_one_more_bay_saves_the_days_past() -> None:
    both = [visit(name, 5, 0, 0, agreed_out=day(5), late_cost_per_day=9.0) for name in "AB"]
    before = stories.base(stories.bays(1), *both)
    assert goals_of(before) == (5, pytest.approx(5 * 9.0))
    assert goals_of(with_one_more_bay(before, 0)) == (0, pytest.approx(0.0))
