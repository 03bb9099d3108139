"""What waits for what, and the audit of Ready dates, by hand."""

from dataclasses import replace

import pytest

from capacity.facts import Base, ReadyDate, Status
from capacity.plans.audit import audit
from capacity.plans.plan import StageDays
from capacity.plans.waiting import waiting_in
from capacity.plans.work_left import work_left
from tests.plans.stories import MON_TO_FRI, base, check, day, package, placed, plan, stage
from tests.plans.test_progress_left import row, told

# Open 2 days; then repair 3 and wash 6 side by side; close 1: 9 days in all.
HEAVY = package(
    stage("open", 2, hours=20),
    stage("repair", 3, "open", hours=30),
    stage("wash", 6, "open", hours=30),
    stage("close", 1, "repair", "wash", hours=10),
)


def waits(*ready: ReadyDate, **changes: object) -> Base:
    return base(check(package="Heavy"), packages=(HEAVY,), ready_dates=ready, **changes)


def until(name: str, number: int, reason: str = "part") -> ReadyDate:
    return ReadyDate("C1", name, day(number), reason)


def of_five(*spans: tuple[str, int, int]):
    return plan(placed("C1", 5, *spans))


AT_ONCE = (("open", 5, 7), ("repair", 7, 10), ("wash", 7, 13), ("close", 13, 14))
LATE = (("open", 5, 7), ("repair", 12, 15), ("wash", 7, 13), ("close", 15, 16))


def test_a_plan_that_waits_stands_and_says_for_how_long():
    world, made = waits(until("repair", 12)), of_five(*LATE)
    assert audit(world, made).broken == ()
    (line,) = waiting_in(made, world)
    # Repair could start on day 7; it is out on day 16 instead of 14.
    assert (line.starts, line.waits, line.longer) == (day(12), 5, 2)


def test_a_wait_within_the_float_makes_nobody_late():
    made = of_five(AT_ONCE[0], ("repair", 10, 13), *AT_ONCE[2:])
    world = waits(until("repair", 10))
    assert audit(world, made).broken == ()
    (line,) = waiting_in(made, world)
    assert (line.waits, line.longer) == (3, 0)


def test_each_of_several_dates_is_told_by_itself():
    world, made = waits(until("repair", 12), until("repair", 9, "tool")), of_five(*LATE)
    first, second = waiting_in(made, world)
    # Without the part the tool still holds it back until day 9; without the tool nothing changes.
    assert (first.waits, first.longer) == (3, 2)
    assert (second.waits, second.longer) == (0, 0)


def test_a_plan_that_does_not_wait_is_told():
    (said,) = audit(waits(until("repair", 12)), of_five(*AT_ONCE[:3], ("close", 13, 14))).broken[:1]
    assert said == "C1 starts repair on Mon 11 Jan 2027, before its Ready date Sat 16 Jan 2027."


def test_a_plan_that_waits_for_nothing_is_told():
    assert audit(waits(), of_five(*LATE)).broken


def test_a_ready_date_on_a_day_off_means_the_next_day_worked():
    world = waits(until("open", 5), working_weekdays=MON_TO_FRI)  # a Saturday
    made = plan(
        placed("C1", 5, ("open", 7, 9), ("repair", 9, 12), ("wash", 9, 17), ("close", 17, 18))
    )
    assert audit(world, made).broken == ()


@pytest.mark.parametrize("name", ["inspect", "open"])
def test_a_stage_in_work_or_done_waits_no_more(name):
    world = told(row("inspect", done=0.5)).replace(ready_dates=(until(name, 9),))
    assert all(work.not_before is None for work in work_left(world, world.checks[0]))


def test_a_stage_begun_by_the_share_that_remains_waits_no_more():
    world = told().replace(ready_dates=(until("inspect", 9), until("close", 30)))
    begun = replace(world.checks[0], remaining=0.6)
    left = {w.stage: w.not_before for w in work_left(world.replace(checks=(begun,)), begun)}
    assert left == {"inspect": None, "wash": None, "close": day(30)}


def test_a_check_without_a_slot_is_not_told():
    world = waits(until("repair", 12))
    assert waiting_in(plan(not_placed=("C1",)), world) == ()


def test_days_stated_by_a_plan_at_another_pace_count():
    quick = replace(HEAVY.stages[2], shortest_days=4)
    heavy = replace(HEAVY, stages=(*HEAVY.stages[:2], quick, HEAVY.stages[3]))
    world = base(check(package="Heavy"), packages=(heavy,), ready_dates=(until("repair", 12),))
    made = of_five(("open", 5, 7), ("repair", 12, 15), ("wash", 7, 11), ("close", 15, 16))
    assert audit(world, made).broken == ()
    (line,) = waiting_in(made, world)
    # At that pace it would be out on day 12: wash ends on 11.
    assert (line.waits, line.longer) == (5, 4)
    assert StageDays("wash", day(7), day(11)) in made.placements[0].stages
    assert world.checks[0].status is Status.BOOKED
