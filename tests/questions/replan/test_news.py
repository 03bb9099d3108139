"""A re-plan with news of a check that is in by the plan before, counted by hand.

C1 came in on day 0, booked; open takes 2 days, repair 3 and wash 6 beside each other, close 1: out
on day 9 by the plan. Today is day 4.
"""

import pytest

import capacity
from capacity.facts import Base, ExtraReason, ExtraWork, ReadyDate, WorkProgress
from capacity.plans.plan import Plan
from capacity.questions.replan.replanning import replan
from capacity.questions.replan.values import Cause, Replanned
from capacity.reports.plan.wording import work_left_counts_from
from capacity.reports.replan.wording import why_in_words
from tests.plans.stories import base, check, day
from tests.plans.test_waiting import HEAVY

SETTINGS = capacity.Settings(seconds=10)
TODAY = day(4)


@pytest.fixture(scope="module")
def old_base() -> Base:
    one = check(package="Heavy", earliest_in=day(0), latest_in=day(0))
    return base(one, packages=(HEAVY,))


@pytest.fixture(scope="module")
def in_force(old_base) -> Plan:
    outcome = capacity.plan(old_base, SETTINGS)
    assert isinstance(outcome, capacity.Planned)
    assert outcome.plan.placements[0].out_day == day(9)
    return outcome.plan


def again(base: Base, plan: Plan, old_base: Base) -> Replanned:
    found = replan(base, plan, TODAY, SETTINGS, old_base=old_base)
    assert isinstance(found, Replanned)
    return found


def test_progress_counts_from_its_day_whoever_is_in(old_base, in_force):
    """Wash has half of its 6 days left on day 4, repair is done: close on day 7, out on 8."""
    told = (
        WorkProgress("C1", TODAY, "repair", finished=day(3)),
        WorkProgress("C1", TODAY, "wash", done=0.5),
    )
    found = again(old_base.replace(progress=told), in_force, old_base)
    (placement,) = found.plan.placements
    assert (placement.in_day, placement.out_day) == (day(0), day(8))
    assert [(s.stage, s.first, s.until) for s in placement.stages] == [
        ("wash", day(4), day(7)),
        ("close", day(7), day(8)),
    ]
    (change,) = found.changes
    # 15 h of wash and 10 of close.
    assert "25 h of it are left from Fri 8 Jan 2027" in why_in_words(change, found.base)
    # What is done is not less work.
    assert [reason.man_hours for reason in change.why] == [0]


def test_a_finished_check_has_left_before_today(old_base, in_force):
    """Its work was over on day 2: it left on day 3, and not on day 4, as of which that is told."""
    told = (WorkProgress("C1", TODAY, finished=day(2)),)
    found = again(old_base.replace(progress=told), in_force, old_base)
    (placement,) = found.plan.placements
    assert (placement.in_day, placement.out_day, placement.stages) == (day(0), day(3), ())
    (change,) = found.changes
    assert "all work on it is finished" in why_in_words(change, found.base)
    assert work_left_counts_from(found.base) is None


def test_a_stage_that_grew_is_told_in_man_hours(old_base, in_force):
    """45 h to go of the 30 of wash: nine days from day 4, and 15 h more than planned."""
    told = (WorkProgress("C1", TODAY, "wash", hours_to_go=45, hours_booked=10),)
    told += (WorkProgress("C1", TODAY, "repair", done=1.0),)
    found = again(old_base.replace(progress=told), in_force, old_base)
    assert found.plan.placements[0].out_day == day(14)
    (change,) = found.changes
    (reason,) = change.why
    assert (reason.cause, reason.days, reason.man_hours) == (Cause.GREW, 5, 15)


def test_a_late_part_is_a_reason(old_base, in_force):
    ready = (ReadyDate("C1", "close", day(12), "part"),)
    found = again(old_base.replace(ready_dates=ready), in_force, old_base)
    assert found.plan.placements[0].out_day == day(13)
    (change,) = found.changes
    assert "close is not ready before Sat 16 Jan 2027 (part)" in why_in_words(change, found.base)


def test_extra_work_is_growth_in_man_hours(old_base, in_force):
    extra = (
        ExtraWork(
            "C1", "crack", "Mechanic", 40, ExtraReason.GROWN_FINDING, ("wash",), "maintenance", 2
        ),
    )
    found = again(old_base.replace(extra_work=extra), in_force, old_base)
    assert found.plan.placements[0].out_day == day(11)
    (change,) = found.changes
    (reason,) = change.why
    assert (reason.cause, reason.days, reason.man_hours) == (Cause.GREW, 2, 40)
