"""The base's own days in both calendars: the search's and the audit's, by hand.

Source: the days off of Bavaria are those of the library ``holidays``; that a shortened day gives a
share of each shift's hours is common practice, no source.
"""

from dataclasses import replace
from datetime import date, timedelta

import holidays
import pytest

from capacity.facts import Base, CalendarDays
from capacity.labour.available import crew_hours
from capacity.labour.calendar import calendar_of
from capacity.plans.audit import audit
from capacity.plans.man_hours import GivenHours
from capacity.plans.worked_days import WorkedDays
from capacity.working_time.duty_periods import duty_periods
from tests.bases import day
from tests.plans.stories import MON_TO_FRI, PLENTY, base, check, package, placed, plan, stage

TEN_HOURS = replace(PLENTY, name="Two", heads=2)


def both(of: Base, number: int) -> tuple[bool, bool]:
    """Return whether a day is worked, by one calendar and by the other."""
    return bool(calendar_of(of).worked[number]), day(number) in WorkedDays(of)


def given(of: Base, number: int) -> tuple[float, float]:
    """Return the crew's hours on a day, by one count and by the other."""
    searched = crew_hours(of, calendar_of(of))["Two"][number]
    return float(searched), GivenHours(of, WorkedDays(of)).on_day(day(number))["Two"]


def own(*rows: CalendarDays) -> Base:
    return base(crews=(TEN_HOURS,), working_weekdays=MON_TO_FRI, calendar_days=rows)


def test_closed_days_are_not_worked_and_give_no_hours() -> None:
    """Tuesday and Wednesday of the first week."""
    of = own(CalendarDays(day(1), day(2), worked=False, reason="audit"))
    assert [both(of, n) for n in range(5)] == [(w, w) for w in (True, False, False, True, True)]
    assert [given(of, n)[0] for n in range(5)] == [20.0, 0.0, 0.0, 20.0, 20.0]
    assert [given(of, n)[1] for n in range(5)] == [20.0, 0.0, 0.0, 20.0, 20.0]


def test_a_day_off_may_be_worked() -> None:
    """The first Saturday, and the Epiphany of Bavaria, a Wednesday."""
    of = own(CalendarDays(day(5), day(5), worked=True)).replace(holidays="DE-BY")
    assert both(of, 5) == (True, True)
    assert both(of, 6) == both(of, 2) == (False, False)
    of = of.replace(calendar_days=(CalendarDays(day(2), day(2), worked=True),))
    assert both(of, 2) == (True, True)
    assert both(of, 5) == (False, False)


def test_a_shortened_day_gives_a_share_of_the_hours_and_counts_as_worked() -> None:
    """From Friday to Monday at 60 %, days off stay days off: 12 of 20 hours."""
    of = own(CalendarDays(day(4), day(7), hours_share=0.6))
    assert [both(of, n)[0] for n in range(4, 8)] == [True, False, False, True]
    assert [given(of, n) for n in (3, 4, 5, 7)] == [(20, 20), (12, 12), (0, 0), (12, 12)]
    periods = duty_periods(TEN_HOURS, of).periods
    assert [period.hours for period in periods[3:6]] == [10.0, 6.0, 6.0]


def test_a_stage_asks_as_much_of_a_shortened_day_as_of_any_other() -> None:
    """Twenty hours over two days, of which the second gives a tenth: the week has room."""
    work = package(stage("Work", 2, hours=20.0))
    of = base(
        check(package="Heavy"),
        packages=(work,),
        crews=(TEN_HOURS,),
        calendar_days=(CalendarDays(day(6), day(6), hours_share=0.1),),
    )
    found = audit(of, plan(placed("C1", 5, ("Work", 5, 7))))
    assert not found.broken
    assert found.weeks[0].regular == pytest.approx(6 * 20 + 2)
    assert (found.weeks[0].demand, found.goals.money) == (20.0, 0.0)


def test_a_stage_goes_past_closed_days_and_a_plan_that_does_not_is_told() -> None:
    """Two days of work from day 5 on, the two days after it closed: until day 9."""
    of = base(
        check(package="Heavy"),
        packages=(package(stage("Work", 2)),),
        calendar_days=(CalendarDays(day(6), day(7), worked=False),),
    )
    assert not audit(of, plan(placed("C1", 5, ("Work", 5, 9)))).broken
    assert audit(of, plan(placed("C1", 5, ("Work", 5, 7)))).broken


def test_own_closed_days_are_as_good_as_the_country() -> None:
    """The holidays of a year in Bavaria, typed day by day."""
    closed = holidays.country_holidays("DE", subdiv="BY", years=(2026, 2027))
    typed = base().replace(
        calendar_days=tuple(CalendarDays(one, one, worked=False) for one in sorted(closed))
    )
    country = base().replace(holidays="DE-BY")
    least = min(len(calendar_of(typed).worked), len(calendar_of(country).worked))
    assert least > 130
    assert (calendar_of(typed).worked[:least] == calendar_of(country).worked[:least]).all()
    days = [date(2027, 1, 1) + timedelta(days=n) for n in range(365)]
    assert [d in WorkedDays(typed) for d in days] == [d in WorkedDays(country) for d in days]


def test_a_long_shutdown_still_lies_within_the_calendar() -> None:
    """A year closed in the middle of a stage: the calendar reaches past its end."""
    first, last = day(3), day(3 + 365)
    of = base(
        check(package="Heavy"),
        packages=(package(stage("Work", 10)),),
        working_weekdays=MON_TO_FRI,
        calendar_days=(CalendarDays(first, last, worked=False),),
    )
    calendar = calendar_of(of)
    latest = calendar.number(of.last_in_day)
    assert calendar.worked_before[-1] - calendar.worked_before[latest] >= 10
    before = of.replace(calendar_days=(CalendarDays(day(-400), day(-40), worked=False),))
    assert len(calendar_of(before).worked) == len(calendar_of(of.replace(calendar_days=())).worked)
