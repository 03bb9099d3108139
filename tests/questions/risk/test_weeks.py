"""Overload of a week and skill by hand, and what the audit's sharing of hours leaves.

Seven mechanics on a shift of 10 h give 490 h a week; 20 % overtime and 25 % contract make
710.5 h the most to be had. The check is in for one week with 500 routine hours and 200 of
findings in the mean, all in that week when the stage keeps its days.
"""

from dataclasses import replace
from math import exp, log, sqrt
from statistics import NormalDist

import pytest

from capacity.facts import Base, Crew
from capacity.plans.plan import WeekLoad
from capacity.questions.risk.settings import Keep
from capacity.questions.risk.simulated import RiskSettings, WeekRisk, risk_of
from capacity.questions.risk.weeks import most_to_be_had
from tests.plans.stories import FIRST_DAY, base, check, day, package, placed, plan, stage

SEVEN = Crew("Seven", ("Mechanic",), heads=7, pattern="Daily", starts_cycle_on=FIRST_DAY)
MOST = 490 * 1.45
SPREAD = 0.5
DRAWS = 20_000


def one_week(keep: Keep = Keep.DAYS, **changes: object) -> WeekRisk:
    work = replace(stage("Work", 7, hours=500, findings=0.4), findings_spread=SPREAD)
    story: Base = base(
        check(package="Heavy", earliest_in=day(0), latest_in=day(7), **changes),
        packages=(package(work),),
        crews=(SEVEN,),
    )
    risk = risk_of(
        story, plan(placed("C1", 7, ("Work", 7, 14))), RiskSettings(draws=DRAWS, keep=keep)
    )
    return risk.weeks[1]


def test_the_probability_of_overload_is_that_of_the_findings() -> None:
    """More than 210.5 h of findings: P(z > (log(210.5 / 200) + sigma^2 / 2) / sigma).

    And the expected excess is Black's formula: m Phi(d + sigma) - k Phi(d), d from the same
    z. Source: distribution and partial expectation of the log-normal (from memory). Within 4
    standard errors.
    """
    week = one_week()
    assert week.most_to_be_had == pytest.approx(MOST)
    sigma = sqrt(log(1 + SPREAD**2))
    d = -(log((MOST - 500) / 200) + sigma**2 / 2) / sigma
    normal = NormalDist()
    probability = normal.cdf(d)
    excess = 200 * normal.cdf(d + sigma) - (MOST - 500) * probability
    error = sqrt(probability * (1 - probability) / DRAWS)
    assert abs(week.overload - probability) < 4 * error
    # The standard deviation of the excess is less than that of the findings, 100 h.
    assert abs(week.expected_overload - excess) < 4 * 100 / sqrt(DRAWS)
    assert abs(week.expected_demand - 700) < 4 * 100 / sqrt(DRAWS)


def test_the_80_percent_demand_is_the_quantile() -> None:
    """500 + 200 exp(0.8416 sigma - sigma^2 / 2), sigma^2 = log 1.25.

    Its standard error, sqrt(0.16 / n) over the density there, is some 1.2 h.
    """
    sigma = sqrt(log(1.25))
    expected = 500 + 200 * exp(0.8416212 * sigma - sigma**2 / 2)
    assert one_week().demand_safe == pytest.approx(expected, abs=5)


def test_findings_of_an_old_aircraft_count_more() -> None:
    assert one_week(findings_factor=1.5).overload > one_week().overload + 0.2


def test_a_stage_that_keeps_its_daily_hours_never_asks_more_a_day() -> None:
    """700 h in 7 days are the most that this week sees; the rest comes later."""
    week = one_week(keep=Keep.DAILY_HOURS)
    assert week.overload == 0
    assert week.expected_demand < 700


def test_what_a_week_over_its_limit_could_use_is_what_the_plan_used() -> None:
    """Hours idle beside an overload, of people for other types, are none to be had."""
    load = WeekLoad("2027-W01", "Mechanic", 900.0, 600.0, 80.0, 20.0, 250.0, 80.0, 20.0)
    assert most_to_be_had(load) == 650
    assert most_to_be_had(replace(load, overload=0.0, demand=650.0)) == 700


def test_weeks_behind_the_plan_are_told_when_work_gets_there() -> None:
    """Planned until the end of week 2; the last draws work in week 3, and later."""
    work = replace(stage("Work", 7, hours=500, findings=0.4), findings_spread=SPREAD)
    story = base(
        check(package="Heavy", earliest_in=day(0), latest_in=day(6)),
        packages=(package(work),),
        crews=(SEVEN,),
    )
    risk = risk_of(story, plan(placed("C1", 6, ("Work", 6, 13))), RiskSettings(draws=500))
    assert [w.week for w in risk.weeks][:3] == ["2027-W01", "2027-W02", "2027-W03"]
    late = risk.weeks[2]
    assert (late.planned_demand, late.overload) == (0.0, 0.0)
    assert late.expected_demand > 0
    assert late.most_to_be_had == pytest.approx(MOST)
