"""What holds for every risk answer: moments, certainty, seeds, spreads, and the time it takes."""

import time
from dataclasses import replace
from math import exp, log, sqrt
from pathlib import Path
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import settings as examples
from hypothesis import strategies as st

import capacity
from capacity.errors import AuditError
from capacity.plans.audit import audit
from capacity.questions.risk.play import play
from capacity.questions.risk.settings import Keep, Shape
from capacity.questions.risk.simulated import RiskSettings, risk_of
from capacity.slots.program.plan_of import plan_of
from tests.plans.stories import base, check, day, package, placed, plan, stage
from tests.slots.building import built, some_choice
from tests.slots.rich_bases import rich_base

SAMPLES = Path(__file__).parents[3] / "sample_inputs"

ROUTINE = (120.0, 300.0, 80.0)
SHARES = (0.2, 0.6, 0.9)
SPREADS = (0.3, 0.5, 0.8)
FACTOR = 1.3
THREE = package(
    *(
        replace(stage(f"S{n}", 4, *after, hours=hours, findings=share), findings_spread=spread)
        for n, (hours, share, spread, after) in enumerate(
            zip(ROUTINE, SHARES, SPREADS, ((), ("S0",), ("S1",)), strict=True)
        )
    ),
    name="Ten days",
)
IN_A_ROW = placed("C1", 5, ("S0", 5, 9), ("S1", 9, 13), ("S2", 13, 17))
OF_THREE = base(check(findings_factor=FACTOR), packages=(THREE,))
LUMPS = [FACTOR * h * f for h, f in zip(ROUTINE, SHARES, strict=True)]
"""Mean findings of the three stages in man-hours."""


@pytest.mark.parametrize("shape", list(Shape))
def test_man_hours_have_the_moments_of_a_sum_of_independent_findings(shape: Shape) -> None:
    """Mean: routine and findings add up; variance: sum of (spread x findings)^2.

    Sources: linearity of the mean, and of the variance of independent variables. Within 4
    standard errors, that of the variance from the drawn fourth moment. Spreads of 0.8 are more
    than a triangle can have, so triangles get 0.7.
    """
    spreads = [min(s, 0.7) if shape is Shape.TRIANGULAR else s for s in SPREADS]
    stages = (replace(s, findings_spread=w) for s, w in zip(THREE.stages, spreads, strict=True))
    of_three = OF_THREE.replace(packages=(package(*stages, name="Ten days"),))
    settings = RiskSettings(draws=20_000, shape=shape)
    hours = play(plan(IN_A_ROW), of_three, settings, of_three).man_hours[0]
    mean = sum(ROUTINE) + sum(LUMPS)
    variance = sum((s * lump) ** 2 for s, lump in zip(spreads, LUMPS, strict=True))
    assert abs(hours.mean() - mean) < 4 * sqrt(variance / settings.draws)
    squares = (hours - mean) ** 2
    assert abs(squares.mean() - variance) < 4 * squares.std() / sqrt(settings.draws)


def test_stages_that_go_together_spread_the_check_more() -> None:
    """Cov of two log-normals of mean 1: exp(r sigma_i sigma_j) - 1.

    Source: moments of the multivariate log-normal distribution (from memory).
    """
    settings = RiskSettings(draws=20_000, together=0.5)
    hours = play(plan(IN_A_ROW), OF_THREE, settings, OF_THREE).man_hours[0]
    sigmas = [sqrt(log(1 + s**2)) for s in SPREADS]
    parts = list(zip(LUMPS, sigmas, range(3), strict=True))
    variance = sum(
        a * b * (exp((1 if i == j else 0.5) * one * two) - 1)
        for a, one, i in parts
        for b, two, j in parts
    )
    squares = (hours - hours.mean()) ** 2
    assert abs(squares.mean() - variance) < 4 * squares.std() / sqrt(settings.draws)
    apart = sum((s * lump) ** 2 for s, lump in zip(SPREADS, LUMPS, strict=True))
    assert squares.mean() > 1.2 * apart


def test_monte_carlo_errors_are_as_told() -> None:
    """Of 40 seeds, estimates of P(at most the planned hours) lie as their error says.

    One log-normal stage: P(factor <= 1) = Phi(sigma / 2). All within 4 errors; their own
    standard deviation within 4 of its errors, ``1 / sqrt(2 n)`` of it.
    """
    one = package(replace(stage("Work", 10, hours=100, findings=0.5), findings_spread=0.5))
    single = base(check(package="Heavy", agreed_out=day(15)), packages=(one,))
    truth = 0.59336  # Phi(sqrt(log(1.25)) / 2) = Phi(0.23619)
    estimates = []
    for seed in range(40):
        (risk,) = risk_of(single, plan(placed("C1", 5)), RiskSettings(draws=500, seed=seed)).checks
        estimates.append(risk.on_day)
    error = sqrt(truth * (1 - truth) / 500)
    assert all(abs(estimate - truth) < 4 * error for estimate in estimates)
    spread = sqrt(sum((estimate - truth) ** 2 for estimate in estimates) / 40)
    assert abs(spread - error) < 4 * error / sqrt(2 * 40)
    answer = risk_of(single, plan(placed("C1", 5)), RiskSettings(draws=500))
    assert answer.standard_error(truth) == pytest.approx(error)


@pytest.mark.parametrize("seed", range(25))
@pytest.mark.parametrize("keep", list(Keep))
def test_without_spread_the_plan_comes_true(seed: int, keep: Keep) -> None:
    """Its own days, man-hours and overload, with probabilities of 0 or 1."""
    rng = Random(seed)
    made = built(rich_base(rng))
    chosen = plan_of(some_choice(made.program, rng), made.program, made.slots)
    audited = audit(made.base, chosen)
    if audited.broken:
        pytest.skip("the choice leaves a fixed check out of its place")
    risk = risk_of(made.base, chosen, RiskSettings(draws=3, keep=keep))
    accounts = {account.check: account for account in audited.accounts}
    assert {r.check for r in risk.checks} == set(accounts)
    for of_check in risk.checks:
        account = accounts[of_check.check]
        assert of_check.planned_out == of_check.out_likely == of_check.out_safe == account.out_day
        assert of_check.on_day == float(account.late_days == 0)
        assert of_check.man_hours_safe == pytest.approx(account.man_hours)
        assert of_check.pushed == 0
        assert of_check.buffer_man_hours == pytest.approx(0)
        assert (of_check.buffer_days > 0) == (account.late_days > 0)
    assert [w.week for w in risk.weeks] == [w.week for w in audited.weeks]
    for of_week, load in zip(risk.weeks, audited.weeks, strict=True):
        assert of_week.expected_demand == pytest.approx(load.demand)
        assert of_week.expected_overload == pytest.approx(load.overload, abs=1e-6)
        assert of_week.overload == float(load.overload > 1e-6)
    money = sum(account.late_money for account in audited.accounts)
    assert risk.totals.late_money == pytest.approx(money)


def test_the_same_seed_gives_the_same_answer() -> None:
    settings = RiskSettings(draws=200, seed=7)
    first = risk_of(OF_THREE, plan(IN_A_ROW), settings)
    assert first == risk_of(OF_THREE, plan(IN_A_ROW), settings)
    assert first != risk_of(OF_THREE, plan(IN_A_ROW), replace(settings, seed=8))


def test_a_further_check_changes_nobody_elses_draws() -> None:
    settings = RiskSettings(draws=200)
    more = OF_THREE.replace(checks=(check("C0", latest_in=day(40)), *OF_THREE.checks))
    spans = ("S0", 30, 34), ("S1", 34, 38), ("S2", 38, 42)
    both = play(plan(IN_A_ROW, placed("C0", 30, *spans)), more, settings, more)
    alone = play(plan(IN_A_ROW), OF_THREE, settings, OF_THREE)
    assert (both.outs[0] == alone.outs[0]).all()
    assert both.man_hours[0] == pytest.approx(alone.man_hours[0])


@examples(deadline=None, max_examples=40)
@given(
    st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0)).map(sorted),
    st.sampled_from(Shape),
    st.integers(0, 5),
)
def test_more_spread_never_lowers_the_80_percent(two: list[float], shape: Shape, seed: int) -> None:
    """Of one stage, on the same draws.

    A log-normal of mean 1 has its 80 % at exp(z sigma - sigma^2 / 2), which rises only up to
    sigma = z80, a spread of 1.015; beyond that a rare disaster holds the mean. So spreads are
    at most 1 here (and 0.7 for triangles).
    """
    less, more = (s if shape is Shape.LOG_NORMAL else 0.7 * s for s in two)
    found = []
    for spread in (less, more):
        one = package(replace(stage("Work", 10, hours=100, findings=0.5), findings_spread=spread))
        single = base(check(package="Heavy"), packages=(one,))
        settings = RiskSettings(draws=1000, seed=seed, shape=shape)
        found += risk_of(single, plan(placed("C1", 5)), settings).checks
    # 1 % of the factor: the drawn 80 % of the scores lies a little off z80.
    assert found[1].man_hours_safe >= found[0].man_hours_safe - 0.5
    assert found[1].out_safe >= found[0].out_safe


def test_a_broken_plan_is_not_judged() -> None:
    with pytest.raises(AuditError, match="C1"):
        risk_of(base(), plan(placed("C1", 1)))


def test_a_plan_of_nothing_has_no_risk() -> None:
    risk = risk_of(base(), plan(not_placed=("C1",)), RiskSettings(draws=10))
    assert (risk.checks, risk.totals.all_on_day, risk.totals.late_checks) == ((), 1.0, 0.0)


def test_a_wild_spread_is_still_answered() -> None:
    """Findings of 1000 % with a spread of 1000 %, three checks in a row in one bay."""
    wild = package(
        replace(stage("Work", 10, hours=10, findings=10.0), findings_spread=10.0), name="Ten days"
    )
    three = tuple(check(f"C{n}", earliest_in=day(0), latest_in=day(40)) for n in range(3))
    in_a_row = plan(*(placed(f"C{n}", 10 * n) for n in range(3)))
    story, settings = base(*three, packages=(wild,)), RiskSettings(draws=300)
    risk = risk_of(story, in_a_row, settings)
    assert [c.pushed > 0 for c in risk.checks] == [False, True, True]
    played = play(in_a_row, story, settings, story)
    days = np.maximum(10, np.ceil(10 * played.man_hours / 110 - 1e-9))
    assert np.array_equal(played.outs - played.ins, days)
    assert played.outs.max() > 365


@pytest.mark.long
def test_2000_draws_of_the_quarter_take_well_under_20_seconds() -> None:
    """Of processor time, as others may be at work; measured at 0.3 s to 0.6 s."""
    quarter = capacity.read(SAMPLES / "quarter.xlsx")
    outcome = capacity.plan(quarter, capacity.Settings(seconds=2))
    assert isinstance(outcome, capacity.Planned)
    began = time.process_time()
    risk = risk_of(quarter, outcome.plan, RiskSettings(default_spread=0.4))
    assert time.process_time() - began < 10
    placed_checks = {placement.check for placement in outcome.plan.placements}
    assert {c.check for c in risk.checks} == placed_checks
    assert risk.settings.draws == 2000
    assert 0 < risk.totals.late_checks < len(placed_checks)
