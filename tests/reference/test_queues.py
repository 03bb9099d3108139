"""A pool of bays against the tables of Erlang's formula, and against a simulation of it.

Source: Erlang C, the queue M/M/c. Values of the first table computed from the formula and one
of them, 0.10 for ten servers at a load of six, as printed in a course text; the call centre of
30 calls an hour of 5 minutes each is a textbook exercise (its statement was read, its numbers
computed). Little's law: L = lambda W.
"""

import math
from math import factorial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from capacity.errors import CapacityError
from capacity.questions.risk.bay_pool import bay_pool, bays_in_use, fewest_bays, simulate_pool

TABLE = [
    (2, 1.0, 1 / 3, 1 / 3),
    (3, 2.0, 4 / 9, 8 / 9),
    (2, 1.5, 0.642857, 1.928571),
    (5, 4.0, 0.554113, 2.216450),
    (10, 6.0, 0.101299, 0.151949),
    (10, 8.0, 0.409180, 1.636721),
]


@pytest.mark.parametrize(("bays", "offered", "waits", "waiting"), TABLE)
def test_erlang_c(bays: int, offered: float, waits: float, waiting: float) -> None:
    pool = bay_pool(bays, offered)
    assert (pool.waits, pool.waiting) == pytest.approx((waits, waiting), abs=5e-7)


@given(st.integers(1, 40), st.floats(0.01, 0.99))
def test_the_recursion_is_the_sum_of_the_formula(bays: int, use: float) -> None:
    """C = a^c / c! * c / (c - a) / (sum over k < c of a^k / k! + the same term)."""
    a = bays * use
    last = a**bays / factorial(bays) * bays / (bays - a)
    expected = last / (sum(a**k / factorial(k) for k in range(bays)) + last)
    assert bay_pool(bays, a).waits == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("bays", "offered", "waits", "waiting"), TABLE)
def test_a_simulated_pool_agrees_within_four_standard_errors(
    bays: int, offered: float, waits: float, waiting: float
) -> None:
    found = simulate_pool(bays, offered, arrivals=200_000, seed=5)
    assert abs(found.waits - waits) < 4 * found.waits_error
    assert abs(found.waiting - waiting) < 4 * found.waiting_error
    # The errors are small enough for that to mean something.
    assert found.waits_error < 0.02
    assert found.waiting_error < 0.1 * waiting


def test_the_same_seed_simulates_the_same() -> None:
    assert simulate_pool(3, 2.0, 1000, seed=1) == simulate_pool(3, 2.0, 1000, seed=1)
    assert simulate_pool(3, 2.0, 1000, seed=1) != simulate_pool(3, 2.0, 1000, seed=2)


def test_six_servers_let_nine_of_ten_calls_through_at_once() -> None:
    """30 calls an hour of 5 minutes are a load of 2.5; five servers 0.8696, six 0.9526."""
    assert 1 - bay_pool(5, 2.5).waits == pytest.approx(0.8696, abs=5e-5)
    assert 1 - bay_pool(6, 2.5).waits == pytest.approx(0.9526, abs=5e-5)
    assert fewest_bays(2.5, most_waits=0.1).bays == 6


def test_little() -> None:
    """26 checks a year of 14 days keep 26 / 365 * 14 = 0.997 bays busy."""
    assert bays_in_use(26, 14) == pytest.approx(0.997, abs=5e-4)


def test_the_wait_is_what_littles_law_makes_of_the_number_waiting() -> None:
    """Two bays, checks of 14 days at a load of 1: one comes every 14 days and 1/3 waits.

    So each waits 14 / 3 days. M/M/1 at half load waits as long as it stays.
    """
    assert bay_pool(2, 1.0).wait_days(14) == pytest.approx(14 / 3)
    assert bay_pool(1, 0.5).wait_days(14) == pytest.approx(14)
    assert bay_pool(3, 0.0).wait_days(14) == 0


def test_too_much_for_the_bays_waits_for_ever() -> None:
    pool = bay_pool(2, 2.0)
    assert (pool.waits, pool.waiting) == (1.0, math.inf)


@given(st.integers(1, 30), st.floats(0.0, 25.0))
def test_a_further_bay_never_lets_more_wait(bays: int, offered: float) -> None:
    assert bay_pool(bays + 1, offered).waits <= bay_pool(bays, offered).waits + 1e-12


def test_many_bays_do_not_overflow() -> None:
    assert 0 < bay_pool(2000, 1950.0).waits < 1


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: bay_pool(0, 1.0),
        lambda: bay_pool(2, -1.0),
        lambda: bay_pool(2, math.nan),
        lambda: fewest_bays(2.0, 0.0),
        lambda: simulate_pool(2, 2.0, 1000, seed=1),
        lambda: simulate_pool(2, 1.0, 10, seed=1),
    ],
)
def test_nonsense_is_refused(wrong: object) -> None:
    with pytest.raises(CapacityError):
        wrong()
