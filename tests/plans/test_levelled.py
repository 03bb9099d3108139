"""What levelling saves and moves, by hand.

Work takes 10 days with 100 man-hours from Thursday day 10 on: evenly 40 h in its first week, 60 h
in its second. One mechanic gives 70 h a week; Fixed takes 35 h in the second week alone.
"""

from dataclasses import replace

import pytest

from capacity.facts import Base, Status
from capacity.plans.audit import audit
from capacity.plans.levelled import Levelling, levelling_of, spread_evenly
from capacity.plans.plan import Plan, WeekHours
from tests.bases import BAY

from .stories import PLENTY, base, check, day, package, placed, plan, stage

FIRST, SECOND = "2027-W02", "2027-W03"


def hangar() -> Base:
    work = replace(stage("Work", 10, hours=100), daily_peak=2.0)
    return base(
        check("C1", package="Heavy", latest_in=day(20)),
        check("C2", package="Short", status=Status.FIXED, fixed_bay="B2", fixed_in=day(14)),
        packages=(package(work), package(stage("Fixed", 7, hours=35), name="Short")),
        bays=(BAY, replace(BAY, name="B2")),
        crews=(replace(PLENTY, heads=1),),
    )


def levelled(first: float, second: float) -> Plan:
    one = placed("C1", 10, ("Work", 10, 20))
    hours = (WeekHours("Mechanic", FIRST, first), WeekHours("Mechanic", SECOND, second))
    stages = (replace(one.stages[0], hours=tuple(h for h in hours if h.hours)),)
    fixed = placed("C2", 14, ("Fixed", 14, 21), bay="B2")
    return plan(replace(one, stages=stages), fixed)


def told(made: Plan) -> Levelling:
    found = audit(hangar(), made)
    assert found.broken == ()
    levelling = levelling_of(made, hangar(), found)
    assert levelling is not None
    return levelling


def test_what_it_saves_is_what_the_even_spread_costs_more() -> None:
    """Evenly the second week asks 95 of 70 h: 14 h of overtime at 60, 11 of contract at 80.

    With 25 h in the week before there is nothing to buy: 840 + 880 are saved.
    """
    found = told(levelled(65, 35))
    assert found.saved == pytest.approx(14 * 60 + 11 * 80)
    assert found.evenly.goals.money == pytest.approx(1720)
    assert found.moved == pytest.approx(25)


def test_it_may_cost_more_than_it_saves() -> None:
    """All 80 h that it may take lie in the first week: 10 h of overtime there, none after."""
    assert told(levelled(80, 20)).saved == pytest.approx(1720 - 600)
    assert told(levelled(30, 70)).saved < 0


def test_only_stages_whose_hours_are_stated_are_told_week_by_week() -> None:
    weeks = told(levelled(65, 35)).weeks
    assert [(w.check, w.stage, w.skill, w.week, w.hours, w.evenly, w.moved) for w in weeks] == [
        ("C1", "Work", "Mechanic", FIRST, 65.0, pytest.approx(40), pytest.approx(25)),
        ("C1", "Work", "Mechanic", SECOND, 35.0, pytest.approx(60), pytest.approx(-25)),
    ]


def test_a_plan_with_even_hours_has_nothing_to_tell() -> None:
    made = spread_evenly(levelled(65, 35))
    assert levelling_of(made, hangar(), audit(hangar(), made)) is None
    assert [stage.hours for one in made.placements for stage in one.stages] == [(), ()]
