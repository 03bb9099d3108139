"""The man-hour plan of a base: who is there, who is away, and what the checks ask, by month."""

from dataclasses import replace
from datetime import date, time

import pytest

from capacity.facts import (
    Absence,
    Base,
    Crew,
    Function,
    FunctionAbsence,
    FunctionStaff,
    Pattern,
    Shift,
)
from capacity.man_hour_plan.man_hour_plan import man_hour_plan
from capacity.man_hour_plan.messages import man_hour_messages
from capacity.man_hour_plan.month_function import ManHourPlan, MonthFunction
from capacity.messages import Level
from capacity.plans.plan import Plan
from tests.plans import stories
from tests.plans.stories import FIRST_DAY, MECHANIC, MON_TO_FRI, package, placed, stage

INSPECTOR = replace(MECHANIC, name="Inspection", licence="C")


def months(plan: ManHourPlan, function: Function = Function.PERFORM) -> list[MonthFunction]:
    """The months of one function."""
    return [month for month in plan.months if month.function is function]


def office(heads: int, **changes: object) -> Base:
    """People of 7.5 hours from Monday to Friday in a base that works then; all of February."""
    return stories.base(
        crews=(Crew("Mechanics", ("Mechanic",), heads, "Week", date(2027, 2, 1)),),
        patterns=(Pattern("Week", ("Day",) * 5 + (None,) * 2),),
        shifts=(Shift("Day", time(7), 7.5),),
        first_day=date(2027, 2, 1),
        weeks=4,
        working_weekdays=MON_TO_FRI,
        **changes,
    )


def test_forty_people_with_18_percent_away_at_75_percent_give_922_and_a_half_hours_a_week():
    # Textbook arithmetic: 40 x 37.5 h x (1 - 0.18) = 1,230 h attended; x 0.75 = 922.5 h a
    # week. February 2027 is four weeks from a Monday to a Sunday.
    away = Absence("Mechanics", date(2027, 2, 1), date(2027, 2, 28), heads=0.18 * 40)
    plan = man_hour_plan(office(40, absences=(away,), productivity=0.75), Plan(()))
    (february,) = months(plan)
    assert february.is_whole_month
    assert february.planned == pytest.approx(4 * 40 * 37.5 * 0.75)
    assert february.available == pytest.approx(4 * 922.5)
    assert february.shortfall == pytest.approx(0.18)
    assert not february.is_significant


def test_half_the_people_away_in_half_the_month_is_a_quarter_and_not_flagged():
    away = Absence("Mechanics", date(2027, 2, 1), date(2027, 2, 12), heads=20)
    (february,) = months(man_hour_plan(office(40, absences=(away,)), Plan(())))
    assert february.shortfall == pytest.approx(0.25)
    assert not february.is_significant
    longer = replace(away, last=date(2027, 2, 15))
    (february,) = months(man_hour_plan(office(40, absences=(longer,)), Plan(())))
    assert february.is_significant


def test_the_work_of_a_stage_falls_into_the_months_of_its_worked_days():
    # Ten days from 27 January on, 100 h: five days in January, five in February.
    work = package(stage("Work", 10, hours=100.0))
    base = stories.base(replace(stories.check(), package="Heavy"), packages=(work,))
    plan = stories.plan(placed("C1", 23, ("Work", 23, 33)))
    january, february = months(man_hour_plan(base, plan))
    assert (january.month, february.month) == ("2027-01", "2027-02")
    assert (january.needed, february.needed) == (pytest.approx(50), pytest.approx(50))
    assert not january.is_whole_month  # the plan begins on the 4th
    assert january.first == FIRST_DAY
    assert february.is_whole_month


def test_days_off_carry_no_work():
    # Four worked days from Friday 29 January on: one in January, three in February.
    work = package(stage("Work", 4, hours=100.0))
    base = stories.base(
        replace(stories.check(), package="Heavy"), packages=(work,), working_weekdays=MON_TO_FRI
    )
    plan = stories.plan(placed("C1", 25, ("Work", 25, 31)))
    assert [month.needed for month in months(man_hour_plan(base, plan))] == pytest.approx([25, 75])


def test_findings_count_and_the_months_sum_up_to_what_the_audit_counts():
    work = package(stage("Open", 3, hours=60.0), stage("Work", 20, "Open", hours=310, findings=0.4))
    base = stories.base(replace(stories.check(), package="Heavy"), packages=(work,))
    placement = placed("C1", 10, ("Open", 10, 13), ("Work", 13, 33))
    plan = man_hour_plan(base, stories.plan(placement))
    audited = stories.audited(base, placement)
    asked = sum(month.needed for month in months(plan))
    assert asked == pytest.approx(60 + 310 * 1.4)
    assert asked == pytest.approx(sum(week.demand for week in audited.weeks))


def test_it_runs_to_the_end_of_the_month_in_which_the_last_work_is():
    base = stories.base(weeks=1)
    assert [m.month for m in months(man_hour_plan(base, Plan(())))] == ["2027-01"]
    late = stories.plan(placed("C1", 20))  # out on 3 February
    assert months(man_hour_plan(base, late))[-1].until == date(2027, 3, 1)
    to_the_turn = stories.plan(placed("C1", 18))  # out on 1 February
    assert [m.month for m in months(man_hour_plan(base, to_the_turn))] == ["2027-01"]


def test_without_the_sheet_every_crew_performs_and_nothing_is_guessed_from_a_licence():
    crews = (stories.PLENTY, Crew("Certifiers", ("Inspection",), 5, "Daily", FIRST_DAY))
    base = stories.base(skills=(MECHANIC, INSPECTOR), crews=crews)
    plan = man_hour_plan(base, Plan(()))
    assert {month.function for month in plan.months} == {Function.PERFORM}
    assert plan.untold == (
        Function.PLAN,
        Function.SUPERVISE,
        Function.INSPECT,
        Function.MONITOR_QUALITY,
    )
    assert months(plan)[0].planned == pytest.approx(28 * 10 * (1000 + 5))


def test_a_skill_named_in_the_sheet_takes_its_crews_and_its_work_to_the_function():
    crews = (stories.PLENTY, Crew("Certifiers", ("Inspection",), 5, "Daily", FIRST_DAY))
    work = package(replace(stage("Work", 2), man_hours={"Mechanic": 200.0, "Inspection": 30.0}))
    base = stories.base(
        replace(stories.check(), package="Heavy"),
        packages=(work,),
        skills=(MECHANIC, INSPECTOR),
        crews=crews,
        functions=(FunctionStaff(Function.INSPECT, "Inspection"),),
    )
    plan = man_hour_plan(base, stories.plan(placed("C1", 5, ("Work", 5, 7))))
    performed, inspected = months(plan)[0], months(plan, Function.INSPECT)[0]
    assert (performed.planned, performed.needed) == (pytest.approx(280_000), pytest.approx(200))
    assert (inspected.planned, inspected.needed) == (pytest.approx(28 * 50), pytest.approx(30))


def test_a_crew_of_two_skills_counts_once_in_the_function_of_its_own():
    both = Crew("Both", ("Mechanic", "Inspection"), 3, "Daily", FIRST_DAY)
    base = stories.base(
        skills=(MECHANIC, INSPECTOR),
        crews=(both,),
        functions=(FunctionStaff(Function.INSPECT, "Inspection"),),
    )
    plan = man_hour_plan(base, Plan(()))
    assert months(plan)[1].planned == pytest.approx(28 * 10 * 3)
    assert months(plan, Function.INSPECT)[1].planned == 0


def test_office_heads_give_their_month_and_part_of_it_in_a_part():
    # January 2027 has 31 days, the plan covers 28 of them; February whole.
    staff = FunctionStaff(Function.PLAN, heads=3, hours_per_head_and_month=140)
    plan = man_hour_plan(stories.base(functions=(staff,)), Plan(()))
    january, february = months(plan, Function.PLAN)
    assert january.planned == pytest.approx(3 * 140 * 28 / 31)
    assert february.planned == pytest.approx(420)
    assert february.available == pytest.approx(420)


def test_an_office_head_away_half_of_the_days_takes_half_of_its_hours():
    staff = FunctionStaff(Function.PLAN, heads=2, hours_per_head_and_month=140)
    away = FunctionAbsence(Function.PLAN, date(2027, 2, 1), date(2027, 2, 14), 1)
    base = stories.base(functions=(staff,), function_absences=(away,))
    february = months(man_hour_plan(base, Plan(())), Function.PLAN)[1]
    assert february.available == pytest.approx(280 - 70)
    assert february.shortfall == pytest.approx(0.25)
    assert not february.is_significant
    everybody = replace(away, heads=9)
    base = base.replace(function_absences=(everybody,))
    february = months(man_hour_plan(base, Plan(())), Function.PLAN)[1]
    assert february.available == pytest.approx(140)
    assert february.is_significant


def test_need_of_an_office_is_a_share_of_what_is_performed():
    work = package(stage("Work", 10, hours=1000.0))
    staff = (
        FunctionStaff(Function.PLAN, heads=1, hours_per_head_and_month=40, needed_share=0.06),
        FunctionStaff(Function.MONITOR_QUALITY, needed_share=0.02),
    )
    base = stories.base(
        replace(stories.check(), package="Heavy"), packages=(work,), functions=staff
    )
    plan = man_hour_plan(base, stories.plan(placed("C1", 6, ("Work", 6, 16))))
    planning = months(plan, Function.PLAN)[0]
    quality = months(plan, Function.MONITOR_QUALITY)[0]
    assert planning.needed == pytest.approx(60)
    assert planning.is_short_of_need  # 40 x 28/31 h of 60
    assert quality.needed == pytest.approx(20)
    assert (quality.planned, quality.shortfall, quality.shortfall_of_need) == (0, None, 1.0)


def test_the_next_review_is_due_three_months_after_the_date_of_the_plan():
    # At least every 3 months: AMC 145.A.30(d) paragraph 7 (seen).
    plan = man_hour_plan(stories.base(plan_date=date(2026, 11, 30)), Plan(()))
    assert (plan.made_on, plan.review_due, plan.dated) == (
        date(2026, 11, 30),
        date(2027, 2, 28),
        True,
    )
    undated = man_hour_plan(stories.base(), Plan(()))
    assert (undated.review_due, undated.dated) == (date(2027, 4, 4), False)


def test_findings_name_month_function_and_share():
    away = Absence("Mechanics", date(2027, 2, 1), date(2027, 2, 28), heads=11)
    plan = man_hour_plan(office(40, absences=(away,), man_hour_plan_name="Resource plan"), Plan(()))
    assert plan.name == "Resource plan"
    warning, note = man_hour_messages(plan)
    assert (warning.level, note.level) == (Level.WARNING, Level.NOTE)
    assert "in 2027-02 'perform' has 27.50 % fewer man-hours than planned" in warning.what
    assert "'monitor quality'" in note.what


def test_enough_of_everything_gives_no_finding():
    staff = tuple(
        FunctionStaff(function, heads=1, hours_per_head_and_month=100)
        for function in Function
        if function is not Function.PERFORM
    )
    assert man_hour_messages(man_hour_plan(office(4, functions=staff), Plan(()))) == ()


def test_holidays_are_not_worked():
    plain = months(man_hour_plan(stories.base(), Plan(())))[1]
    assert plain.planned == pytest.approx(28 * 10_000)
    day_off = months(man_hour_plan(stories.base(weeks=14, holidays="DE"), Plan(())))[2]
    assert day_off.month == "2027-03"
    assert day_off.planned == pytest.approx(29 * 10_000)  # Good Friday, Easter Monday
