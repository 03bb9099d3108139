"""An enquiry beside a plan whose man-hours give: others keep their slots, not their weeks.

Two checks ask 100 h each of a crew that has 70 h a week, 10 on each day. Both come in on a
Thursday for ten days: four days of their first week and six of the second. At 25 h a day at most
a check can be done in either week.
"""

from dataclasses import replace

import pytest

from capacity.facts import Base, Check, Crew, Status
from capacity.plans.audit import audit
from capacity.plans.levelled import spread_evenly
from capacity.plans.plan import Plan
from capacity.questions.asking.standing_plan import standing_plan
from capacity.questions.enquiries.asked import ask
from capacity.questions.why.one_check import PlanReasons
from tests.bases import BAY, FIRST_DAY, day
from tests.plans.stories import base, check, package, stage
from tests.questions.asking_about import planned


def asked(name: str, first: int, **changes: object) -> Check:
    """A check that may come in on one day only."""
    usual = check(name, package="Heavy", earliest_in=day(first), latest_in=day(first))
    return replace(usual, **changes)


def story(*checks: Check) -> Base:
    work = replace(stage("Work", 10, hours=100), daily_peak=2.5)
    return base(
        *checks,
        packages=(package(work),),
        bays=(BAY, replace(BAY, name="B2")),
        crews=(Crew("Crew", ("Mechanic",), 1, "Daily", FIRST_DAY),),
    )


def plan_of(made: Base) -> Plan:
    plan = planned(made, 1.0)
    assert plan is not None
    return plan


def test_the_cost_of_a_slot_is_that_of_the_plan_that_it_is_taken_into() -> None:
    alone = story(asked("C1", 10))
    plan = plan_of(alone)
    enquiry = asked("E", 10, status=Status.OPTION)
    (answer,) = ask(alone, plan, (enquiry,))
    slot = answer.slots[0]
    whole = story(asked("C1", 10), enquiry)
    found = audit(whole, slot.taken_into(replace(plan, refused=("E",))))
    assert found.broken == ()
    before = audit(alone, plan).goals.money
    assert slot.cost == pytest.approx(found.goals.money - before, abs=0.01)
    # As dear as planning both from nothing: the other's hours make room.
    both = story(asked("C1", 10), asked("E", 10))
    assert slot.cost == pytest.approx(audit(both, plan_of(both)).goals.money - before, abs=0.01)
    assert slot.cost > 0


def test_a_plan_with_hours_in_other_weeks_can_be_asked_about() -> None:
    """Its slots are those of the workbook; where its hours lie is no fault of the plan."""
    made = story(asked("C1", 10, fixed_bay="B1", fixed_in=day(10), status=Status.FIXED))
    plan = plan_of(made)
    assert spread_evenly(plan) != plan
    standing = standing_plan(made, spread_evenly(plan))
    assert standing.plan == plan


def test_what_a_check_asks_is_told_with_the_others_levelled_without_it() -> None:
    """Short takes 100 h in the second week alone and pushes all of C1 into the first one.

    There C1 buys 30 h; without Short it would buy none.
    """
    short = package(stage("Work", 4, hours=100), name="Short")
    alone, both = story(asked("C1", 10)), story(asked("C1", 10), asked("S1", 14, package="Short"))
    alone, both = (b.replace(packages=(*b.packages, short)) for b in (alone, both))
    plan = plan_of(both)
    more = audit(both, plan).goals.money - audit(alone, plan_of(alone)).goals.money
    assert PlanReasons(both, plan).why("S1").labour_money == pytest.approx(more, abs=0.01)
