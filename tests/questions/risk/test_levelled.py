"""Simulated plans are levelled again: what a person would move by hand, and what a plan keeps.

Source of the second count: ``scipy.optimize.linprog`` over the hours of each stage by itself, week
by week; the simulation adds the limits of all stages up and moves hours between weeks.
"""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from scipy.optimize import linprog

from capacity.facts import Crew
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.risk.play import play
from capacity.questions.risk.settings import RiskSettings
from tests.plans.stories import FIRST_DAY, base, check, day, package, placed, stage

HOURS_A_WEEK = 70.0  # one head, 10 hours a day, seven days


def story(peak: float, *in_days: int):
    """Aircraft with 100 man-hours over ten days each, side by side in bays enough; one mechanic."""
    work = replace(stage("Work", 10, hours=100), daily_peak=peak)
    usual = base()
    return base(
        *(
            check(f"C{n}", package="Heavy", earliest_in=day(i), latest_in=day(30))
            for n, i in enumerate(in_days)
        ),
        packages=(package(work),),
        bays=tuple(replace(usual.bays[0], name=f"B{n}") for n in range(len(in_days))),
        crews=(Crew("One", ("Mechanic",), 1, "Daily", FIRST_DAY),),
        skills=(replace(usual.skills[0], overtime_cap=0.0, contract_cap=0.0),),
    )


def overload_of(base_, *in_days: int) -> float:
    plan = Plan(tuple(placed(f"C{n}", i, bay=f"B{n}") for n, i in enumerate(in_days)))
    assert audit(base_, plan).broken == ()
    played = play(plan, base_, RiskSettings(draws=2), base_)
    return float(played.overload.sum(axis=0)[0])


def least_overload(peak: float, in_days: tuple[int, ...]) -> float:
    """Count once more: each stage's hours in its weeks, overload in each week."""
    weeks = 8
    days = np.zeros((len(in_days), weeks))
    for n, first in enumerate(in_days):
        for number in range(first, first + 10):
            days[n, number // 7] += 1
    count = days.size
    cost = np.concatenate([np.zeros(count), np.ones(weeks)])
    sums = np.zeros((len(in_days), count + weeks))
    for n in range(len(in_days)):
        sums[n, n * weeks : (n + 1) * weeks] = 1.0
    rows = np.zeros((weeks, count + weeks))
    for week in range(weeks):
        rows[week, week:count:weeks] = 1.0
        rows[week, count + week] = -1.0
    most = np.concatenate([(days * 10.0 * peak).ravel(), np.full(weeks, np.inf)])
    solved = linprog(
        cost,
        A_ub=rows,
        b_ub=np.full(weeks, HOURS_A_WEEK),
        A_eq=sums,
        b_eq=np.full(len(in_days), 100.0),
        bounds=np.column_stack([np.zeros(len(most)), most]),
    )
    return float(solved.fun)


@pytest.mark.parametrize("in_days", [(10,), (7, 10), (10, 17), (7, 9, 12), (7, 21, 23)])
@pytest.mark.parametrize("peak", [1.0, 1.5, 2.5])
def test_the_overload_is_that_of_a_second_count(peak, in_days):
    found = overload_of(story(peak, *in_days), *in_days)
    assert found == pytest.approx(least_overload(peak, in_days), abs=1e-6)


def test_a_peak_takes_overload_away():
    assert overload_of(story(1.0, 10, 17), 10, 17) > overload_of(story(2.0, 10, 17), 10, 17)


def test_hours_behind_a_stage_are_used_in_its_float():
    """``Beside`` keeps the aircraft in for ten days more; ``Work`` may go on beside it."""

    def with_float(into_float: bool):
        work = replace(stage("Work", 7, hours=140), into_float=into_float)
        beside = stage("Beside", 17)
        return replace_packages(story(1.0, 7), package(work, beside))

    spans = (("Work", 7, 14), ("Beside", 7, 24))
    found = []
    for into_float in (False, True):
        base_ = with_float(into_float)
        plan = Plan((placed("C0", 7, *spans, bay="B0"),))
        assert audit(base_, plan).broken == ()
        found.append(float(play(plan, base_, RiskSettings(draws=2), base_).overload.sum(axis=0)[0]))
    # 140 hours in one week of 70; then 70 in that week and 70 in the next.
    assert found == [pytest.approx(70.0), pytest.approx(0.0)]


def replace_packages(base_, only):
    return base_.replace(packages=(only,))


def test_the_demand_of_all_weeks_stays_what_it_is():
    base_ = story(2.0, 7, 9, 12)
    plan = Plan(tuple(placed(f"C{n}", i, bay=f"B{n}") for n, i in enumerate((7, 9, 12))))
    played = play(plan, base_, RiskSettings(draws=3), base_)
    assert played.demand.sum(axis=0) == pytest.approx(np.full(3, 300.0))
    assert (played.demand >= -1e-9).all()
    assert base_.first_day + timedelta(days=7) == day(7)
