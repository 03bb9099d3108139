"""The Lagrangian bound and the step of the prices, worked by hand."""

import pytest

from capacity.network.bound import STEP, lagrangian_bound, moved_prices


def test_bounds_of_bases_less_the_prices():
    """Two bases at 100 and 50, prices 30 and 5: 150 - 35."""
    assert lagrangian_bound([100.0, 50.0], {"A": 30.0, "B": 5.0}) == 115.0
    assert lagrangian_bound([100.0, None], {"A": 30.0}) is None


def test_prices_rise_for_what_several_want_and_fall_for_what_nobody_wants():
    """A is wanted by three (2 too many), B by one, C by none, D by none and free already.

    The step is STEP x 50 / (2 x 2 + 1 x 1) = 10 STEP along (2, 0, -1, 0).
    """
    prices = {"A": 10.0, "B": 7.0, "C": 4.0, "D": 0.0}
    moved = moved_prices(prices, {"A": 3, "B": 1, "C": 0, "D": 0}, bound=100.0, cost=150.0)
    assert moved == pytest.approx({"A": 10 + 20 * STEP, "B": 7.0, "C": 0.0, "D": 0.0})


def test_prices_stay_where_everybody_is_content():
    prices = {"A": 10.0, "B": 0.0}
    assert moved_prices(prices, {"A": 1, "B": 0}, bound=1.0, cost=9.0) == prices
