"""Man-hours in other weeks of the same slot: a plan of its own, but nobody has moved."""

from dataclasses import replace

from capacity.facts import Base
from capacity.plans.audit import audit
from capacity.plans.plan import Plan, WeekHours
from capacity.questions.asking.differences import moves_between
from capacity.questions.compare.two_plans import compare
from capacity.reports.kit.issue import plan_number
from tests.plans.stories import base, check, day, package, placed, stage


def story() -> Base:
    """One check of 100 h in ten days from a Thursday on, 15 h a day at most."""
    work = replace(stage("Work", 10, hours=100), daily_peak=1.5)
    return base(
        check("C1", package="Heavy", earliest_in=day(7), latest_in=day(30)),
        packages=(package(work),),
    )


def plan_with(first: float, second: float) -> Plan:
    placement = placed("C1", 10, ("Work", 10, 20))
    hours = (WeekHours("Mechanic", "2027-W02", first), WeekHours("Mechanic", "2027-W03", second))
    stages = (replace(placement.stages[0], hours=hours),)
    return Plan((replace(placement, stages=stages),))


def test_both_plans_stand() -> None:
    assert audit(story(), plan_with(60.0, 40.0)).broken == ()
    assert audit(story(), plan_with(20.0, 80.0)).broken == ()


def test_a_check_whose_hours_lie_elsewhere_does_not_differ() -> None:
    told = compare(story(), plan_with(60.0, 40.0), plan_with(20.0, 80.0))
    assert told.differing == ()


def test_it_does_not_move_for_an_enquiry() -> None:
    first, second = plan_with(60.0, 40.0), plan_with(20.0, 80.0)
    assert moves_between(first, second, set()) == ()
    later = Plan((placed("C1", 11, ("Work", 11, 21)),))
    assert [move.check for move in moves_between(first, later, set())] == ["C1"]


def test_the_sheets_of_two_such_plans_carry_two_numbers() -> None:
    first, second = plan_with(60.0, 40.0), plan_with(20.0, 80.0)
    assert plan_number(first) != plan_number(second)
    assert plan_number(first) == plan_number(plan_with(60.0, 40.0))
