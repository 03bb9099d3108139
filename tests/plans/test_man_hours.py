"""Man-hours by ISO week and skill: given, asked and bought."""

from dataclasses import replace
from datetime import date

import pytest

from capacity.facts import Absence, Base, Crew, Employment, Pattern, Status
from capacity.plans.audit import audit
from capacity.plans.plan import WeekLoad

from .stories import (
    FIRST_DAY,
    MECHANIC,
    MON_TO_FRI,
    PLENTY,
    audited,
    base,
    check,
    day,
    package,
    placed,
    plan,
    stage,
)

TWO_PEOPLE = replace(PLENTY, name="Two", heads=2)
"""100 man-hours a week where the base works Monday to Friday, ten hours a day."""


def first_week(base_: Base) -> WeekLoad:
    """Return the mechanics' first week with nothing placed."""
    idle = plan(not_placed=tuple(check.name for check in base_.checks))
    return audit(base_, idle).weeks[0]


def test_availability_is_headcount_times_hours_less_absence_times_productivity() -> None:
    """40 people x 37.5 h x (1 - 0.18) x 0.75 = 922.5 man-hours a week.

    Source: the textbook arithmetic H = headcount x paid hours x (1 - absence) x productivity.
    8, 8, 8, 8 and 4 people are away on the five days: 36 of 200 man-days are 18 %.
    """
    shift = replace(base().shifts[0], hours=7.5)
    away = tuple(Absence("Line", day(n), day(n), heads) for n, heads in enumerate((8, 8, 8, 8, 4)))
    line = base(
        crews=(replace(PLENTY, name="Line", heads=40),),
        shifts=(shift,),
        absences=away,
        productivity=0.75,
        working_weekdays=MON_TO_FRI,
    )
    assert first_week(line).regular == pytest.approx(922.5, abs=1e-9)


def test_four_on_four_off_follows_its_own_cycle() -> None:
    """The cycle starts on 1 January: on 1-4, off 5-8, on 9-12.

    So the week 4 to 10 January has three shifts, the 4th, 9th and 10th, of 2 x 10 h.
    """
    four_four = Pattern("Four-four", ("Day",) * 4 + (None,) * 4)
    crew = replace(TWO_PEOPLE, pattern="Four-four", starts_cycle_on=date(2027, 1, 1))
    assert first_week(base(crews=(crew,), patterns=(four_four,))).regular == 60.0


def test_a_cycle_reaches_back_before_its_start() -> None:
    """A cycle of four that starts on 11 January is on the 3rd and 4th, 7th and 8th too."""
    two_two = Pattern("Two-two", ("Day", "Day", None, None))
    crew = replace(TWO_PEOPLE, pattern="Two-two", starts_cycle_on=date(2027, 1, 11))
    # 4th on (second of 3-4), 7th and 8th on, then off
    assert first_week(base(crews=(crew,), patterns=(two_two,))).regular == 60.0


def test_days_before_the_first_day_give_nothing() -> None:
    """First day Wednesday 6 January: five of seven days are left in its week."""
    assert first_week(base(first_day=day(2), crews=(TWO_PEOPLE,))).regular == 100.0


def test_nobody_is_more_than_away() -> None:
    """Two leaves of one and two heads in a crew of two, both on Monday: 0, not -10 h."""
    away = (Absence("Two", day(0), day(0), 1), Absence("Two", day(-5), day(0), 2))
    assert first_week(base(crews=(TWO_PEOPLE,), absences=away)).regular == 120.0


def test_holidays_are_not_worked() -> None:
    """Epiphany, Wednesday 6 January, is kept in Bavaria and not in all of Germany.

    Source: from memory.
    """
    weekdays = base(crews=(TWO_PEOPLE,), working_weekdays=MON_TO_FRI)
    assert first_week(weekdays.replace(holidays="DE")).regular == 100.0
    assert first_week(weekdays.replace(holidays="DE-BY")).regular == 80.0


def test_a_crew_gives_to_its_own_skill_alone() -> None:
    """The second skill of a crew gets nothing: hours are never counted twice."""
    sheet = replace(MECHANIC, name="Sheet metal")
    crew = replace(TWO_PEOPLE, skills=("Sheet metal", "Mechanic"))
    one_week = base(skills=(MECHANIC, sheet), crews=(crew,), weeks=1)
    idle = audit(one_week, plan(not_placed=("C1",)))
    assert [(load.skill, load.regular) for load in idle.weeks] == [
        ("Mechanic", 0.0),
        ("Sheet metal", 140.0),
    ]


def test_the_year_changes_in_the_middle_of_a_week() -> None:
    """2026 has 53 ISO weeks, for it begins on a Thursday (ISO 8601).

    70 h over seven days from Friday 1 January: three days in 2026-W53, four in 2027-W01.
    """
    friday = date(2027, 1, 1)
    new_year = base(
        check(package="Heavy", earliest_in=friday, latest_in=friday),
        packages=(package(stage("Work", 7, hours=70)),),
        first_day=date(2026, 12, 30),
        weeks=1,
    )
    result = audited(new_year, placed("C1", -3, ("Work", -3, 4)))
    assert [(load.week, load.demand) for load in result.weeks] == [
        ("2026-W53", 30.0),
        ("2027-W01", 40.0),
    ]


def test_days_before_the_first_day_ask_nothing() -> None:
    """40 h over [-2, 2): two of the four days lie before day 0, so 20 h are asked."""
    fixed = check(package="Heavy", status=Status.FIXED, fixed_bay="B1", fixed_in=day(-2))
    result = audited(
        base(fixed, packages=(package(stage("Work", 4, hours=40)),), weeks=1),
        placed("C1", -2, ("Work", -2, 2)),
    )
    assert result.accounts[0].man_hours == 20.0
    assert [(load.week, load.demand) for load in result.weeks] == [("2027-W01", 20.0)]


def test_findings_grow_with_age() -> None:
    """100 h routine, findings 50 %, an old aircraft's factor 1.2: 160 h."""
    heavy = package(stage("Work", 4, hours=100, findings=0.5))
    old = base(check(package="Heavy", findings_factor=1.2), packages=(heavy,))
    result = audited(old, placed("C1", 7, ("Work", 7, 11)))
    assert result.accounts[0].man_hours == pytest.approx(160.0)


def one_week_of(hours: float, **changes: object) -> WeekLoad:
    """Ask ``hours`` of the mechanics in week 2027-W02, days 7 to 11, and return that week.

    Two people give 100 h regular; overtime is capped at 20 %, contract at 25 % of that.
    """
    busy = base(
        check(package="Heavy"),
        packages=(package(stage("Work", 5, hours=hours)),),
        crews=(TWO_PEOPLE,),
        working_weekdays=MON_TO_FRI,
    ).replace(**changes)
    result = audited(busy, placed("C1", 7, ("Work", 7, 12)))
    (load,) = (load for load in result.weeks if load.week == "2027-W02")
    return load


def bought(load: WeekLoad) -> tuple[float, float, float]:
    """Return overtime, contract and overload hours."""
    return load.overtime, load.contract, load.overload


CHEAP_CONTRACT = replace(MECHANIC, contract_cost=40.0)


@pytest.mark.parametrize(
    ("hours", "dear_contract", "cheap_contract"),
    [
        # 100 h are there; of what is short, 20 h can be overtime and 25 h contract
        (90, (0, 0, 0), (0, 0, 0)),
        (100, (0, 0, 0), (0, 0, 0)),
        (110, (10, 0, 0), (0, 10, 0)),
        (130, (20, 10, 0), (5, 25, 0)),
        (145, (20, 25, 0), (20, 25, 0)),
        (150, (20, 25, 5), (20, 25, 5)),
    ],
)
def test_the_cheaper_tier_is_filled_first(
    hours: float,
    dear_contract: tuple[float, float, float],
    cheap_contract: tuple[float, float, float],
) -> None:
    """Overtime costs 60; contract costs 80 in one story and 40 in the other."""
    assert bought(one_week_of(hours)) == dear_contract
    assert bought(one_week_of(hours, skills=(CHEAP_CONTRACT,))) == cheap_contract


def test_overload_is_the_last_resort_even_when_it_costs_nothing() -> None:
    """The caps are used up first: 20 h overtime and 25 h contract, then 5 h overload."""
    assert bought(one_week_of(150, overload_cost=0.0)) == (20, 25, 5)


def test_money_of_the_tiers() -> None:
    """Contract first: 25 x 40 + 20 x 60 + 5 x 500 = 1,000 + 1,200 + 2,500 = 4,700."""
    busy = base(
        check(package="Heavy"),
        packages=(package(stage("Work", 5, hours=150)),),
        crews=(TWO_PEOPLE,),
        working_weekdays=MON_TO_FRI,
        skills=(CHEAP_CONTRACT,),
    )
    result = audited(busy, placed("C1", 7, ("Work", 7, 12)))
    money = (result.overtime_money, result.contract_money, result.overload_money)
    assert money == (1200.0, 1000.0, 2500.0)
    assert result.goals.overload_hours == 5.0
    assert result.goals.money == 4700.0


def test_contract_crews_give_contract_hours_and_carry_no_caps() -> None:
    """One contract head of 10 h on five days adds 50 h to the 25 % of the employed 100 h.

    Productivity 1: contract cap 75 h, overtime cap still 20 h, regular still 100 h.
    """
    agency = Crew("Agency", ("Mechanic",), 1, "Daily", FIRST_DAY, employment=Employment.CONTRACT)
    load = one_week_of(200, crews=(TWO_PEOPLE, agency))
    assert (load.regular, load.overtime_cap, load.contract_cap) == (100.0, 20.0, 75.0)
    assert bought(load) == (20.0, 75.0, 5.0)


def test_contract_crews_alone() -> None:
    """Nobody is employed: nothing is regular, no overtime, 50 h of contract people."""
    agency = Crew("Agency", ("Mechanic",), 1, "Daily", FIRST_DAY, employment=Employment.CONTRACT)
    load = one_week_of(60, crews=(agency,))
    assert load.regular == 0.0
    assert bought(load) == (0.0, 50.0, 10.0)
