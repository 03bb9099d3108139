"""A choice costs what its stages can do one by one, where their limits added up allow more."""

from dataclasses import replace

import capacity
from capacity.facts import Absence, Base, Check, Crew, Package
from capacity.plans.levelled import spread_evenly
from capacity.settings import Settings
from capacity.slots.program.build import build
from tests.bases import BAY, FIRST_DAY, day
from tests.plans import stories

FOUR_WEEKS_OF_HOURS = 1400.0


def _package(name: str, peak: float) -> Package:
    stage = stories.stage("Work", 28, hours=FOUR_WEEKS_OF_HOURS)
    return stories.package(replace(stage, daily_peak=peak), name=name)


def _check(name: str, package: str) -> Check:
    return stories.check(name, package=package, earliest_in=day(0), latest_in=day(0))


def four_weeks() -> Base:
    """Two checks of four weeks, and a crew of 17 of whom 14 are away every other week."""
    away = [Absence("Crew", day(n), day(n + 6), 14, "away") for n in (7, 21)]
    return stories.base(
        _check("C1", "Steep"),
        _check("C2", "Flat"),
        packages=(_package("Steep", 2.4), _package("Flat", 1.2)),
        bays=(BAY, replace(BAY, name="B2")),
        crews=(Crew("Crew", ("Mechanic",), 17, "Daily", FIRST_DAY),),
        absences=tuple(away),
    )


def test_hours_in_weeks_that_do_not_touch_cost_what_the_stages_can_do() -> None:
    """Steep can be done in weeks 1 and 3 alone, Flat for 60 % there: 2,240 h of 2,800.

    Limits of single weeks, of neighbours and across the ends of weeks would let all 2,380 h that
    the crew has in weeks 1 and 3 be used, and nothing be bought. So 140 h are: 20 % of the 210 h
    of weeks 2 and 4 as overtime at 60, the other 56 h by contract labour at 80.
    """
    planned = capacity.plan(four_weeks(), Settings(seconds=2))
    assert isinstance(planned, capacity.Planned)
    assert planned.audit.broken == ()
    money = planned.audit.goals.money
    assert abs(money - (84 * 60 + 56 * 80)) < 0.01
    assert planned.bound is None or planned.bound <= money + 0.01


def test_a_choice_costs_in_the_program_what_its_audited_plan_costs() -> None:
    base = four_weeks()
    program = build(base).program
    chosen = program.first_column[:-1].copy()
    planned = capacity.plan(base, Settings(seconds=2))
    assert isinstance(planned, capacity.Planned)
    assert abs(program.cost(chosen)[1] - planned.audit.goals.money) < 0.01
    load = program.load(chosen)
    assert program.hours.levelled(load).money < program.cost(chosen)[1]
    assert spread_evenly(planned.plan) != planned.plan
