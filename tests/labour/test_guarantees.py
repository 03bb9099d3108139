"""Hours that contract teams are paid for, used or not: by supply and audit, by hand.

Five mechanics of a contract team work ten hours a day on seven days: 350 h a week at 80 an hour.
Common practice, no source.
"""

from dataclasses import replace

import pytest

import capacity
from capacity.facts import Base, Employment, Pattern
from capacity.labour.available import available_hours
from capacity.labour.calendar import calendar_of
from capacity.labour.guarantees import guaranteed_by_week, guaranteed_money
from capacity.labour.sharing import share_out
from capacity.plans.audit import Auditor, audit
from capacity.questions.overtime.review import review_overtime
from tests.bases import day
from tests.plans.stories import PLENTY, base, check, package, placed, plan, stage

TEAM = replace(PLENTY, name="Team", heads=5, employment=Employment.CONTRACT, guaranteed_hours=140.0)
WEEK = package(stage("Work", 7, hours=210.0))


def hangar(**changes: object) -> Base:
    """Four weeks, nobody but the team, and 210 h of work in the second week."""
    asked = check(package="Heavy", earliest_in=day(7), latest_in=day(7))
    usual = base(asked, packages=(WEEK,), crews=(TEAM,), weeks=4)
    return usual.replace(**changes)


IN = placed("C1", 7, ("Work", 7, 14))


def test_a_week_costs_what_is_used_or_what_is_guaranteed() -> None:
    """Guaranteed: 4 x 140 x 80 = 44,800. 210 h are used in one week: 70 more at 80 are 5,600."""
    found = audit(hangar(), plan(IN))
    assert (found.guaranteed_money, found.contract_money) == pytest.approx((44_800.0, 5_600.0))
    assert found.goals.money == pytest.approx(50_400.0)
    week = found.weeks[1]
    assert (week.contract, week.guaranteed, week.contract_paid) == pytest.approx((210, 140, 70))
    idle = audit(hangar(), plan(not_placed=("C1",)))
    assert idle.goals.money == pytest.approx(44_800.0)
    assert [load.guaranteed for load in idle.weeks] == [0.0] * 4
    few = hangar(packages=(package(stage("Work", 7, hours=70.0)),))
    assert audit(few, plan(IN)).goals.money == pytest.approx(44_800.0)


def test_supply_and_plan_say_the_same() -> None:
    of = hangar()
    supply = available_hours(of, calendar_of(of))
    excess = supply.regular * 0.0
    excess[1, 0] = 210.0
    hours = share_out(supply, excess)
    priced = hours[:, 1, 0] * [
        p[0] if h else 0.0 for p, h in zip(supply.pool_price, hours[:, 1, 0], strict=True)
    ]
    assert sum(priced) == pytest.approx(5_600.0)
    outcome = capacity.plan(of, capacity.Settings(seconds=5))
    assert isinstance(outcome, capacity.Planned)
    assert outcome.stopped_by == "proof"
    assert outcome.audit.goals.money == pytest.approx(50_400.0)
    assert outcome.bound == pytest.approx(50_400.0)
    reviewed = review_overtime(of, outcome.plan)
    assert [week.contract_money for week in reviewed.weeks] == pytest.approx([0, 5_600, 0, 0])


def test_weeks_are_cut_by_its_span_in_proportion_to_days() -> None:
    """From Thursday of the first week to Tuesday of the third: 4, 7 and 2 days, 13 of 7."""
    crew = replace(TEAM, first=day(3), last=day(15))
    of = hangar(crews=(crew,))
    calendar = calendar_of(of)
    assert guaranteed_by_week(crew, of, calendar)[:4].tolist() == pytest.approx([80, 140, 40, 0])
    assert guaranteed_money(of) == pytest.approx(260 * 80)
    assert audit(of, plan(IN)).guaranteed_money == pytest.approx(260 * 80)


def test_after_the_weeks_of_the_plan_only_hours_used_are_paid() -> None:
    """Work in the last week and the one after: 7 days of 15 h, of which five are planned."""
    late = check(package="Heavy", earliest_in=day(23), latest_in=day(23))
    of = hangar(checks=(late,), packages=(package(stage("Work", 7, hours=210.0)),))
    found = audit(of, plan(placed("C1", 23, ("Work", 23, 30))))
    assert [load.guaranteed for load in found.weeks] == pytest.approx([0, 0, 0, 140, 0])
    assert found.contract_money == pytest.approx(80 * (10 + 60))


def test_hours_within_the_guarantee_come_before_overtime_and_dearer_hours() -> None:
    """Own mechanics give 70 h; of 210 h the guarantee gives 140, and no overtime is bought."""
    own = replace(PLENTY, name="Own", heads=1)
    found = audit(hangar(crews=(own, TEAM)), plan(IN))
    week = found.weeks[1]
    assert (week.regular, week.overtime, week.contract) == pytest.approx((70, 0, 140))
    assert found.goals.money == pytest.approx(44_800.0)


def test_a_guarantee_above_the_hours_that_are_there_is_paid_all_the_same() -> None:
    """Closed in the second week: 140 h are paid, and all 210 h are overload."""
    away = capacity.facts.CalendarDays(day(7), day(12), worked=False)
    of = hangar(calendar_days=(away,), longest_delay_days=0)
    found = audit(of, plan(not_placed=("C1",)))
    assert found.guaranteed_money == pytest.approx(44_800.0)
    supply = available_hours(of, calendar_of(of))
    (row,) = [n for n, name in enumerate(supply.pool_names) if name.startswith("guaranteed")]
    assert supply.pool_hours[row][:3].tolist() == pytest.approx([140, 50, 140])


@pytest.mark.parametrize("guaranteed", [0.0, 35.0, 140.0, 400.0])
def test_days_that_have_room_are_told_so_with_a_guarantee_too(guaranteed: float) -> None:
    """30 h a day: 10 of them by the own mechanic, 20 by the team, which has 50."""
    own = replace(PLENTY, name="Own", heads=1)
    of = hangar(crews=(own, replace(TEAM, guaranteed_hours=guaranteed)))
    auditor = Auditor(of)
    assert auditor.day_shortages(plan(IN), auditor.audit(plan(IN))) == ()


def test_days_without_the_team_are_short_by_its_hours() -> None:
    """The team works on the first day of the cycle alone: 50 h on Monday, of which 30 are asked."""
    monday = Pattern("Monday", ("Day", *(None,) * 6))
    of = hangar(crews=(replace(TEAM, pattern="Monday"),))
    of = of.replace(patterns=(*of.patterns, monday))
    auditor = Auditor(of)
    found = auditor.audit(plan(IN))
    assert found.weeks[1].contract == pytest.approx(50.0)
    (short,) = auditor.day_shortages(plan(IN), found)
    assert (short.overload, short.money) == pytest.approx((20.0, 0.0))
