"""The first and the last day of a stage are days on which somebody works. By hand.

Days 5 and 6, 12 and 13 are Saturdays and Sundays; the base works Monday to Friday.
"""

import json
from dataclasses import replace
from datetime import date
from random import Random
from typing import Any

import pytest

import capacity
from capacity.facts import Base, Package, Shop, ShopLoop, Stage
from capacity.plans.audit import audit
from capacity.plans.plan import Plan, StageDays
from capacity.plans.worked_days import WorkedDays
from capacity.plans.worked_starts import on_worked_days
from capacity.questions.replan.replanning import replan
from capacity.reports.plan.summary import summary
from capacity.reports.plan_files.plan_from_file import plan_from_file
from tests.reference import stories
from tests.reference.every_rule_bases import every_rule_base
from tests.reference.stories import bays, day, fixed, proven, visit

MONDAY_TO_FRIDAY = frozenset(range(5))
WORK = "maintenance"


def mon_fri(package: Package, *checks: capacity.facts.Check, **changes: object) -> Base:
    base = stories.base(bays(len(checks)), *checks, working_weekdays=MONDAY_TO_FRIDAY)
    return base.replace(packages=(*base.packages, package), **changes)


def stages(plan: Plan) -> list[tuple[str, int, int]]:
    return [
        (stage.stage, (stage.first - day(0)).days, (stage.until - day(0)).days)
        for placement in plan.placements
        for stage in placement.stages
    ]


TWO = Package("two", (Stage("Open", WORK, 2), Stage("Close", WORK, 2, after=("Open",))))


def test_work_on_an_aircraft_that_comes_in_on_a_sunday_begins_on_monday() -> None:
    """Open ends on Tuesday; the stay, from Sunday until Friday, is the contract's."""
    base = mon_fri(TWO, visit("X", 1, 6, 6, package="two"))
    outcome = proven(base)
    assert stages(outcome.plan) == [("Open", 7, 9), ("Close", 9, 11)]
    (placement,) = outcome.plan.placements
    assert (placement.in_day, placement.out_day) == (day(6), day(11))


def test_a_stage_after_one_that_ends_on_friday_begins_on_monday() -> None:
    base = mon_fri(TWO, visit("X", 1, 3, 3, package="two"))
    assert stages(proven(base).plan) == [("Open", 3, 5), ("Close", 7, 9)]


def test_a_stage_whose_items_are_back_on_a_saturday_begins_on_monday() -> None:
    """Items leave on Thursday, day 3, and take two days: the shop has them done on Friday.

    With a day of waiting on Saturday it begins on Monday all the same, and audits so.
    """
    one = Package("one", (Stage("Open", WORK, 1), Stage("Close", WORK, 1, after=("Open",))))
    base = mon_fri(
        one,
        visit("X", 1, 2, 2, package="one"),
        shops=(Shop("Wheels", 1.0),),
        shop_loops=(ShopLoop("one", "Wheels", 2, "Open", "Close"),),
        longest_wait_days=0,
    )
    for longest in (0, 1, 2):
        outcome = proven(base.replace(longest_wait_days=longest))
        assert stages(outcome.plan) == [("Open", 2, 3), ("Close", 7, 8)]


def test_a_stage_alone_begins_on_a_worked_day() -> None:
    """Rig and swing could both begin on Friday, day 4; the swing, alone, waits for the rig."""
    package = Package(
        "p",
        (
            Stage("Open", WORK, 1),
            Stage("Rig", WORK, 1, after=("Open",)),
            Stage("Swing", WORK, 1, after=("Open",), alone=True),
        ),
    )
    base = mon_fri(package, visit("X", 1, 3, 3, package="p"))
    assert stages(proven(base).plan) == [("Open", 3, 4), ("Rig", 4, 5), ("Swing", 7, 8)]


def test_work_that_is_left_begins_on_a_worked_day() -> None:
    """The plan begins on a Sunday; half of the work is left."""
    package = Package("p", (Stage("Work", WORK, 4, {"Mechanic": 40.0}),))
    base = mon_fri(
        package, fixed("X", 1, 2, "B1", package="p", remaining=0.5), first_day=day(6), weeks=9
    )
    assert stages(proven(base).plan) == [("Work", 7, 9)]


def told_as_ready(plan: Plan) -> Plan:
    """Return the plan as earlier versions wrote it: stages from the day they are ready on."""
    placements = []
    for placement in plan.placements:
        ready = placement.in_day
        told = []
        for stage in placement.stages:
            told.append(StageDays(stage.stage, ready, stage.until))
            ready = stage.until
        placements.append(replace(placement, stages=tuple(told)))
    return replace(plan, placements=tuple(placements))


@pytest.mark.parametrize("in_day", [3, 6])
def test_an_older_plan_with_stages_from_days_off_is_read_and_found_again(in_day: int) -> None:
    base = mon_fri(TWO, visit("X", 1, in_day, in_day, package="two"))
    outcome = proven(base)
    old = told_as_ready(outcome.plan)
    assert old != outcome.plan
    assert on_worked_days(old, base) == outcome.plan
    written = json.dumps(summary(base, replace(outcome, plan=old), ()))
    assert plan_from_file(base, written).placements == outcome.plan.placements
    answer = replan(base, old, day(0), capacity.Settings(seconds=5))
    assert not isinstance(answer, capacity.Impossible)
    assert answer.changes == ()
    again = capacity.plan(base, capacity.Settings(seconds=5), begin=old)
    assert isinstance(again, capacity.Planned)
    assert again.plan.placements == outcome.plan.placements


def test_the_audit_says_so_of_a_stage_from_a_day_off() -> None:
    base = mon_fri(TWO, visit("X", 1, 3, 3, package="two"))
    (sentence,) = audit(base, told_as_ready(proven(base).plan)).broken
    assert sentence == "X starts Close on Sat 9 Jan 2027, a day off."


def test_the_crew_plan_tells_no_stage_moved_that_is_not() -> None:
    """Nothing can move: everything is done one after the other, with people every day."""
    package = Package(
        "p",
        (
            Stage("Open", WORK, 2, {"Mechanic": 20.0}),
            Stage("Close", WORK, 2, {"Mechanic": 20.0}, after=("Open",)),
        ),
    )
    base = mon_fri(package, visit("X", 1, 6, 6, package="p"), weeks=2)
    staffed = capacity.assign_crews(base, proven(base).plan, capacity.CrewSettings(weeks=2))
    assert staffed.plan.stages
    assert [stage for stage in staffed.plan.stages if stage.first != stage.planned] == []


@pytest.mark.parametrize("seed", [0, 12, 31, 37, 62, 81])
def test_every_stage_of_any_plan_begins_and_ends_on_a_worked_day(seed: int) -> None:
    base = every_rule_base(Random(seed))
    outcome = capacity.plan(base, capacity.Settings(seconds=3))
    assert isinstance(outcome, capacity.Planned)
    worked = WorkedDays(base)
    told = [stage for p in _told(outcome, base) for stage in p["stages"]]
    assert told
    for stage in told:
        assert date.fromisoformat(stage["from"]) in worked
        assert date.fromisoformat(stage["to"]) in worked


def _told(outcome: capacity.Planned, base: Base) -> list[dict[str, Any]]:
    """Return the placements as the plan file has them."""
    placements = summary(base, outcome, ())["placements"]
    assert isinstance(placements, list)
    return placements
