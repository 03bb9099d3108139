from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from capacity.slots.program.neighbourhood import around
from tests.reference import stories
from tests.reference.random_bases import small_base
from tests.reference.stories import bays, visit
from tests.slots.building import built, keeps_rows, some_choice


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=60)
def test_a_choice_around_another_costs_what_it_costs_in_the_whole(rng: Random) -> None:
    program = built(small_base(rng)).program
    if not program.checks:
        return
    chosen = some_choice(program, rng)
    numbers = range(len(program.checks))
    free = np.array(sorted(rng.sample(numbers, rng.randint(1, len(program.checks)))))
    near = around(program, chosen, free)
    moved = some_choice(near.program, rng)
    whole = chosen.copy()
    whole[free] = near.to_whole(moved)
    days, money = program.cost(whole)
    assert near.program.cost(moved) == (days, pytest.approx(money))
    assert keeps_rows(program, whole)


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=30)
def test_the_choice_itself_is_in_its_neighbourhood(rng: Random) -> None:
    program = built(small_base(rng)).program
    if not program.checks:
        return
    chosen = some_choice(program, rng)
    free = np.array([rng.randrange(len(program.checks))])
    near = around(program, chosen, free)
    start = near.from_whole(chosen[free])
    assert start is not None
    assert keeps_rows(near.program, start)


def test_columns_that_cannot_stand_beside_the_held_ones_are_gone() -> None:
    # A holds the one bay on days 0 to 2; B may only come in on day 3 or later.
    both = visit("A", 3, 0, 5), visit("B", 3, 0, 5)
    program = built(stories.base(bays(1), *both, longest_delay_days=0)).program
    near = around(program, np.array([0, -1]), np.array([1]))
    assert (near.number - program.first_column[1]).tolist() == [3, 4, 5]
