"""Mean, spread and confidence limits against a handbook's example and a statistics library."""

import numpy as np
import pytest
from scipy import stats

from capacity.questions.learn.estimate import FEW, estimate_of, limits_of_mean


def test_the_example_of_the_handbook():
    """NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2, ZARR13.DAT, 95 %.

    N = 195, mean 9.261460, standard deviation 0.2278881E-01, limits 9.258242 and 9.264679: as
    quoted by several public checks of that page.
    """
    low, high = limits_of_mean(9.261460, 0.2278881e-01, 195)
    assert (low, high) == pytest.approx((9.258242, 9.264679), abs=1e-6)


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("number", [2, 3, 7, 40])
def test_as_the_statistics_library_has_it(seed: int, number: int):
    values = np.random.default_rng(seed).normal(0.3, 0.1, number).tolist()
    found = estimate_of(values)
    told = stats.describe(values)
    assert found.mean == pytest.approx(told.mean)
    assert found.deviation == pytest.approx(told.variance**0.5)
    limits = stats.t.interval(0.95, number - 1, told.mean, stats.sem(values))
    assert (found.low, found.high) == pytest.approx(limits)


def test_one_value_tells_no_spread_and_none_tells_nothing():
    assert estimate_of([]) is None
    found = estimate_of([0.4])
    assert (found.number, found.mean) == (1, 0.4)
    assert found.deviation is found.low is found.high is None


def test_fewer_than_five_are_few():
    assert FEW == 5
    assert estimate_of([1.0] * 4).is_of_few
    assert not estimate_of([1.0] * 5).is_of_few


def test_visits_that_are_all_alike_have_no_spread():
    found = estimate_of([0.25, 0.25, 0.25])
    assert (found.deviation, found.low, found.high) == (0.0, 0.25, 0.25)
