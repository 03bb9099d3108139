"""Rolled without any news, next week's workbook has the same plan: same slots, same hours."""

from collections import defaultdict
from datetime import date, timedelta
from math import fsum
from pathlib import Path

import pytest

import capacity
from capacity.facts import Base, Status
from capacity.plans.audit import Audit, Auditor, audit
from capacity.plans.plan import Plan
from capacity.plans.weeks import week_name
from capacity.plans.worked_days import WorkedDays
from capacity.questions.roll.files import roll_forward
from capacity.questions.roll.rolled_plan import rolled_plan
from tests.inputs.books import change, valid, write_workbook
from tests.questions.roll.weekly_books import FIRST_DAY, plan_of, planned_book
from tests.quick_and_long import some_of

QUARTER = Path(__file__).parents[3] / "sample_inputs" / "quarter.xlsx"
WEEK = timedelta(days=7)


def rolled_base(path: Path, plan: Plan, first_day: date) -> Base:
    told = roll_forward(path, plan, first_day)
    assert told.base is not None, told.messages
    path.with_name(f"{first_day}.xlsx").write_bytes(told.content)
    return told.base


def slots(plan: Plan, first_day: date, base: Base) -> dict[str, list[object]]:
    """Return bay, days and stages of every check from a day on, as people would compare them."""
    found: dict[str, list[object]] = defaultdict(list)
    first_worked = WorkedDays(base).next(first_day)
    for placement in sorted(plan.placements, key=lambda p: (p.in_day, p.out_day)):
        if placement.out_day <= first_day:
            continue
        stages = [
            (s.stage, s.first if s.first >= first_day else first_worked, s.until)
            for s in placement.stages
            if s.until > first_day
        ]
        found[placement.check].append((placement.bay, placement.out_day, sorted(stages)))
    return dict(found)


def cost_behind(old: Base, before: Audit, new: Base, after: Audit, first_day: date) -> float:
    """Return what of the old plan's cost lies before a Monday, counted by itself.

    Hours bought in the weeks before; unused interval, lateness and prices of the checks that
    have left; prices of options that came in, since a fixed check earns none.
    """
    first_week = week_name(first_day)
    skills = {skill.name: skill for skill in old.skills}
    bought = fsum(
        load.overtime * skills[load.skill].overtime_cost
        + load.contract * skills[load.skill].contract_cost
        + load.overload * old.overload_cost
        for load in before.weeks
        if load.week < first_week
    )
    here = {check.name: check for check in new.checks}
    gone = fsum(
        a.early_money + a.late_money - a.price for a in before.accounts if a.check not in here
    )
    came_in = fsum(
        a.price
        for a in before.accounts
        if a.check in here and here[a.check].status is not Status.OPTION
    )
    return bought + gone - came_in


def hours_from(found: Audit, first_week: str) -> dict[tuple[str, str], float]:
    return {(w.week, w.skill): w.demand for w in found.weeks if w.week >= first_week and w.demand}


@pytest.mark.parametrize("seed", some_of(range(20), quick=1))
def test_week_by_week_the_plan_stays_what_it_was(tmp_path: Path, seed: int) -> None:
    path, plan = planned_book(tmp_path, seed, seconds=0.5)  # any plan is rolled alike
    base = capacity.read(path)
    first_day = FIRST_DAY
    for _ in range(5):
        first_day += WEEK
        following = rolled_base(path, plan, first_day)
        after = rolled_plan(plan, following)
        new, old = audit(following, after), audit(base, plan)
        assert new.broken == ()
        assert slots(after, first_day, base) == slots(plan, first_day, base)
        week = week_name(first_day)
        assert hours_from(new, week) == pytest.approx(hours_from(old, week), abs=1e-6)
        behind = cost_behind(base, old, following, new, first_day)
        assert new.goals.money == pytest.approx(old.goals.money - behind, abs=0.005)
        checks = {check.name for check in following.checks}
        left = {c.name for c in base.checks} - checks
        kept = {row.check for row in following.delivered}
        # Options that nobody took and that cannot come any more.
        assert left - kept <= set(plan.refused)
        path, base, plan = path.with_name(f"{first_day}.xlsx"), following, after
        if all(placement.out_day <= first_day + WEEK for placement in plan.placements):
            break  # a workbook has a check at least


@pytest.mark.long
def test_the_sample_quarter_stays_what_it_was(tmp_path: Path) -> None:
    """With moves, shops, floors, ways and equipment; slots alone, since its hours are levelled."""
    base = capacity.read(QUARTER)
    plan = plan_of(base, 5.0)
    path = tmp_path / "week.xlsx"
    path.write_bytes(QUARTER.read_bytes())
    for number in range(1, 9):
        first_day = base.first_day + number * WEEK
        following = rolled_base(path, plan, first_day)
        after = rolled_plan(plan, following)
        assert audit(following, after).broken == (), first_day
        assert slots(after, first_day, base) == slots(plan, first_day, base)
        path, plan = path.with_name(f"{first_day}.xlsx"), after


def test_a_check_that_waits_between_two_bays_goes_on_waiting(tmp_path: Path) -> None:
    """C3 is to be painted next, and P is closed until the day after the new first day."""
    book = valid()
    book["Bays"].append(["P", "South", 40, 45, 14, "paint", None, 0])
    book["Packages"].append(["light", "livery", "close", "paint", 4, 0])
    change(book, "Checks", "C3", "Remaining %", None)
    told = [["C3", stage, FIRST_DAY, 100] for stage in ("open", "inspect", "close")]
    book["Progress"] = [["Check", "Stage", "As of", "Done %"], *told]
    door = ["P", FIRST_DAY, FIRST_DAY + timedelta(days=2), "door"]
    book["Bay closures"] = [["Bay", "From", "To", "Reason"], door]
    path = write_workbook(book, tmp_path / "week.xlsx")
    base = capacity.read(path)
    plan = plan_of(base, 2.0)
    first_day = FIRST_DAY + timedelta(days=2)
    following = rolled_base(path, plan, first_day)
    after = rolled_plan(plan, following)
    assert audit(following, after).broken == ()
    assert slots(after, first_day, base) == slots(plan, first_day, base)
    waits, painted = after.by_check()["C3"]
    assert (waits.bay, waits.stages, painted.bay) == ("B2", (), "P")
    assert waits.out_day == painted.in_day == first_day + timedelta(days=1)


def test_on_any_day_of_the_week(tmp_path: Path) -> None:
    path, plan = planned_book(tmp_path, 3)
    for number in (1, 4, 5, 6, 9, 12):
        first_day = FIRST_DAY + timedelta(days=number)
        following = rolled_base(path, plan, first_day)
        after = rolled_plan(plan, following)
        assert Auditor(following).audit(after).broken == (), first_day


@pytest.mark.long
def test_a_search_that_begins_with_it_keeps_what_is_in_work_and_costs_no_more(tmp_path) -> None:
    path, plan = planned_book(tmp_path, 2)
    first_day = plan.placements[0].in_day + timedelta(days=1)
    following = rolled_base(path, plan, first_day)
    as_it_was = rolled_plan(plan, following)
    again = plan_of(following, 1.0, begin=as_it_was)
    money = audit(following, as_it_was).goals.money
    assert audit(following, again).goals.money <= money + 0.005
    fixed = [check.name for check in following.checks if check.status is Status.FIXED]
    assert fixed
    for name in fixed:
        first, before = again.by_check()[name][0], as_it_was.by_check()[name][0]
        assert (first.bay, first.in_day) == (before.bay, before.in_day)
