"""The distributions of findings against closed forms."""

from dataclasses import replace
from math import exp, log, sqrt
from statistics import NormalDist

import numpy as np
import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st

from capacity.errors import CapacityError
from capacity.questions.risk.draws import scores_of
from capacity.questions.risk.findings import (
    WIDEST_TRIANGLE,
    SpreadSource,
    factor_at,
    factor_at_quantile,
    spreads_of,
    triangle,
)
from capacity.questions.risk.settings import MOST_DRAWS, Keep, RiskSettings, Shape
from tests.plans.stories import base, package, stage

Z80 = 0.8416212335729143
"""The 80 % quantile of the standard normal; 0.8416 in printed tables."""

spreads = st.floats(0.01, 3.0)
triangular_spreads = st.floats(0.01, WIDEST_TRIANGLE)
quantiles = st.floats(0.001, 0.999)


@given(spreads)
def test_the_80_percent_of_a_log_normal_is_exp_mu_plus_z_sigma(spread: float) -> None:
    """Mean 1 and standard deviation s give sigma^2 = log(1 + s^2), mu = -sigma^2 / 2.

    Source: the log-normal distribution, NIST/SEMATECH e-Handbook 1.3.6.6.9 (from memory).
    """
    sigma = sqrt(log(1 + spread**2))
    expected = exp(-(sigma**2) / 2 + Z80 * sigma)
    assert factor_at_quantile(0.8, spread, Shape.LOG_NORMAL) == pytest.approx(expected)


@given(spreads, quantiles)
def test_log_normal_quantiles_as_in_scipy(spread: float, quantile: float) -> None:
    sigma = sqrt(log(1 + spread**2))
    reference = scipy.stats.lognorm(s=sigma, scale=exp(-(sigma**2) / 2))
    found = factor_at_quantile(quantile, spread, Shape.LOG_NORMAL)
    assert found == pytest.approx(reference.ppf(quantile), rel=1e-9)
    assert (reference.mean(), reference.std()) == pytest.approx((1, spread))


@given(triangular_spreads, quantiles)
def test_triangular_quantiles_as_in_scipy(spread: float, quantile: float) -> None:
    least, mode, greatest = triangle(spread)
    width = greatest - least
    reference = scipy.stats.triang((mode - least) / width, loc=least, scale=width)
    found = factor_at_quantile(quantile, spread, Shape.TRIANGULAR)
    assert found == pytest.approx(reference.ppf(quantile), rel=1e-7, abs=1e-9)
    assert (reference.mean(), reference.std()) == pytest.approx((1, spread))
    assert least >= 0


def test_triangles_by_hand() -> None:
    """Spread 1/sqrt(24): from 0.5 to 1.5; its quarter quantiles 1 -+ 0.5 (1 - sqrt(1/2)).

    Spread sqrt(1/2): from 0 to 3 with mode 0, whose 80 % is 3 - sqrt(0.2 * 9).
    """
    assert triangle(1 / sqrt(24)) == pytest.approx((0.5, 1.0, 1.5))
    quarter = 0.5 * (1 - sqrt(0.5))
    for part, expected in ((0.25, 1 - quarter), (0.5, 1.0), (0.75, 1 + quarter)):
        found = factor_at_quantile(part, 1 / sqrt(24), Shape.TRIANGULAR)
        assert found == pytest.approx(expected)
    assert triangle(sqrt(0.5)) == pytest.approx((0, 0, 3), abs=1e-7)
    widest = factor_at_quantile(0.8, sqrt(0.5), Shape.TRIANGULAR)
    assert widest == pytest.approx(3 - sqrt(1.8), abs=1e-6)


@pytest.mark.parametrize(
    ("shape", "spread"),
    [(Shape.LOG_NORMAL, 0.4), (Shape.TRIANGULAR, 0.4), (Shape.TRIANGULAR, 0.6)],
)
def test_draws_have_the_mean_and_the_spread(shape: Shape, spread: float) -> None:
    """Within 4 standard errors: ``s / sqrt(n)``, and of the variance from the 4th moment."""
    settings = RiskSettings(draws=MOST_DRAWS)
    drawn = factor_at(scores_of("C1", "Work", settings), spread, shape)
    assert abs(drawn.mean() - 1) < 4 * spread / sqrt(MOST_DRAWS)
    squares = (drawn - 1) ** 2
    assert abs(squares.mean() - spread**2) < 4 * squares.std() / sqrt(MOST_DRAWS)


def test_scores_are_standard_normal() -> None:
    """Kolmogorov-Smirnov at 0.1 % (a fixed seed), and a share below z80 within 4 errors."""
    scores = scores_of("C1", "Work", RiskSettings(draws=MOST_DRAWS))
    assert scipy.stats.kstest(scores, "norm").pvalue > 0.001
    assert abs(np.mean(scores < Z80) - 0.8) < 4 * sqrt(0.8 * 0.2 / MOST_DRAWS)


def test_stages_of_a_check_go_together_as_told() -> None:
    """Standard error of a correlation r: (1 - r^2) / sqrt(n); two checks stay apart."""
    settings = RiskSettings(draws=MOST_DRAWS, together=0.6)
    one, two = (scores_of("C1", name, settings) for name in ("Open", "Close"))
    other = scores_of("C2", "Open", settings)
    assert abs(np.corrcoef(one, two)[0, 1] - 0.6) < 4 * (1 - 0.36) / sqrt(MOST_DRAWS)
    assert abs(np.corrcoef(one, other)[0, 1]) < 4 / sqrt(MOST_DRAWS)
    assert abs(one.std() - 1) < 4 / sqrt(2 * MOST_DRAWS)


def test_scores_depend_on_seed_and_names_alone() -> None:
    settings = RiskSettings(draws=50)
    first = scores_of("C1", "Work", settings)
    assert np.array_equal(first, scores_of("C1", "Work", settings))
    for other in (
        scores_of("C1", "Work", replace(settings, seed=2)),
        scores_of("C2", "Work", settings),
        scores_of("C1Work", "", settings),
    ):
        assert not np.intersect1d(first, other).size


def test_the_source_of_each_spread_is_told() -> None:
    """Of the workbook where it has one, else the planner's, else none; no findings, no row."""
    heavy = package(
        stage("Open", 1),
        replace(stage("Inspect", 2, findings=0.2), findings_spread=0.5),
        stage("Repair", 3, findings=0.6),
    )
    plain = base(packages=(heavy,))
    rows = [(s.stage, s.spread, s.source) for s in spreads_of(plain, RiskSettings())]
    assert rows == [
        ("Inspect", 0.5, SpreadSource.WORKBOOK),
        ("Repair", 0.0, SpreadSource.NONE),
    ]
    judged = spreads_of(plain, RiskSettings(default_spread=0.3))
    assert [(s.spread, s.source) for s in judged] == [
        (0.5, SpreadSource.WORKBOOK),
        (0.3, SpreadSource.JUDGEMENT),
    ]
    assert [str(s.source) for s in judged] == ["workbook", "planner's judgement"]


def test_a_triangle_that_would_fall_below_nought_is_refused() -> None:
    wide = package(replace(stage("Repair", 3, findings=0.6), findings_spread=0.71))
    with pytest.raises(CapacityError, match=r"Repair of package Heavy spread by 71\.0 % \(workb"):
        spreads_of(base(packages=(wide,)), RiskSettings(shape=Shape.TRIANGULAR))
    assert spreads_of(base(packages=(wide,)), RiskSettings())[0].spread == 0.71


@pytest.mark.parametrize(
    "wrong",
    [
        {"draws": 0},
        {"draws": MOST_DRAWS + 1},
        {"seed": -1},
        {"default_spread": -0.1},
        {"default_spread": float("nan")},
        {"together": 1.1},
        {"shape": "square"},
        {"keep": "calm"},
    ],
)
def test_settings_that_mean_nothing_are_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(CapacityError):
        RiskSettings(**wrong)


def test_choices_may_be_given_by_name() -> None:
    named = RiskSettings(shape="triangular", keep="days")
    assert (named.shape, named.keep) == (Shape.TRIANGULAR, Keep.DAYS)


def test_z80_is_what_tables_print() -> None:
    assert NormalDist().inv_cdf(0.8) == pytest.approx(Z80)
