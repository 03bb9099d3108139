"""The calendar, by hand. Day 0 is Monday 2027-01-04, the first day of 2027-W01 (ISO 8601)."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from capacity.facts import Base, Shop, ShopLoop, Stage, Status
from capacity.labour.calendar import Calendar, calendar_of
from tests.bases import BAY
from tests.plans.stories import MON_TO_FRI, base, check, day, package, stage


def office(**changes: object) -> Calendar:
    """A base that works from Monday to Friday."""
    return calendar_of(base(working_weekdays=MON_TO_FRI).replace(**changes))


def test_days_off_are_not_worked() -> None:
    calendar = office()
    assert calendar.origin == day(0)
    assert calendar.first == 0
    assert calendar.worked[:9].tolist() == [True] * 5 + [False] * 2 + [True] * 2
    assert calendar.worked_days[:7].tolist() == [0, 1, 2, 3, 4, 7, 8]
    assert calendar.worked_before[:9].tolist() == [0, 1, 2, 3, 4, 5, 5, 5, 6]


def test_the_next_worked_day_and_the_end_of_some_days_of_work() -> None:
    """From Saturday it is Monday; three days from Thursday end behind Monday; one ends the day."""
    calendar = office()
    assert calendar.next_worked(np.array([4, 5, 6, 7])).tolist() == [4, 7, 7, 7]
    assert calendar.end_of_work(np.array([3, 5]), 3).tolist() == [8, 10]
    assert calendar.end_of_work(np.array([0, 4]), 1).tolist() == [1, 5]


def test_numbers_and_dates_are_each_others() -> None:
    calendar = office()
    assert calendar.number(day(9)) == 9
    assert calendar.number(day(-2)) == -2
    assert calendar.date(9) == day(9)


def test_it_begins_with_the_first_check_that_is_in_already() -> None:
    """In on Friday day -3: the weeks are those from 2026-W53 on, and the first day is number 3."""
    going_on = check(status=Status.FIXED, fixed_bay="B1", fixed_in=day(-3))
    calendar = office(checks=(going_on, check("C2")))
    assert (calendar.origin, calendar.first) == (day(-3), 3)
    assert calendar.week_names[:2] == ("2026-W53", "2027-W01")
    assert calendar.week[:11].tolist() == [0] * 3 + [1] * 7 + [2]
    assert calendar.week_edges[:4].tolist() == [0, 3, 10, 17]
    assert calendar.week_edges[-1] == len(calendar.week)
    # Friday day -3 is worked, and before the plan: it is counted by one and not by the other.
    assert calendar.worked_before[:6].tolist() == [0, 1, 1, 1, 2, 3]
    assert calendar.plannable_before[:6].tolist() == [0, 0, 0, 0, 1, 2]


def test_holidays_are_those_of_the_country_and_of_its_part() -> None:
    """Epiphany, 6 January, is kept in Bavaria and not in all of Germany (from memory)."""
    assert office(holidays="DE").worked[:3].tolist() == [True, True, True]
    assert office(holidays="DE-BY").worked[:3].tolist() == [True, True, False]
    assert office(holidays=None).worked[:3].all()


def test_holidays_of_the_next_year_are_known() -> None:
    """From November 2027 on: Saturday 25 December and New Year's Day fall into weeks of it."""
    first = date(2027, 11, 1)
    asked = check(earliest_in=first, latest_in=first)
    calendar = calendar_of(base(asked, first_day=first, weeks=10, holidays="DE"))
    worked = calendar.worked
    assert not worked[calendar.number(date(2027, 12, 25))]
    assert not worked[calendar.number(date(2028, 1, 1))]
    assert worked[calendar.number(date(2028, 1, 3))]


SIX = frozenset(range(6))


def last_out(of: Base, worked_days: int, further_days: int) -> int:
    """Count day by day to the end of work that begins on the last day of the plan."""
    number, calendar = (of.last_in_day - of.first_day).days, calendar_of(of)
    for _ in range(worked_days):
        while calendar.date(number).weekday() not in of.working_weekdays:
            number += 1
        number += 1
    return number + further_days


@pytest.mark.parametrize("weekdays", [frozenset({0}), MON_TO_FRI, SIX, frozenset(range(7))])
@pytest.mark.parametrize("days", [1, 10, 45, 299, 300, 700])
def test_it_holds_the_longest_check_that_comes_in_on_the_last_day(
    weekdays: frozenset[int], days: int
) -> None:
    """Two stages one after another, at the longest pace of one, and 30 days of changeover.

    The wheels take 5 days, and the check may wait for them and for the move to paint, 9 days each.
    """
    work = replace(stage("Work", 1), shortest_days=1, longest_days=days)
    paint = Stage("Paint", "paint", 3, {}, ("Work",), 0.0)
    of = base(
        check(package="Heavy"),
        packages=(package(stage("Small", 1), name="Small"), package(work, paint)),
        bays=(BAY, replace(BAY, name="P1", work=frozenset({"paint"}), changeover_days=30)),
        shops=(Shop("Wheels", 2.0),),
        shop_loops=(ShopLoop("Heavy", "Wheels", 9, "Work", "Paint"),),
        working_weekdays=weekdays,
        longest_wait_days=9,
        weeks=2,
    )
    assert len(calendar_of(of).worked) > last_out(of, days + 3 + 5, 30 + 2 * 9)


def test_holidays_lengthen_it() -> None:
    """No more than 60 holidays a year are looked for: a base of one weekday loses that many weeks.

    One stage of ten days on Mondays alone: 10 + 60 weeks, and two more.
    """
    of = base(working_weekdays=frozenset({0}), weeks=2)
    assert len(calendar_of(of).worked) == (of.last_in_day - of.first_day).days + 1 + 7 * 72


PAINT = Stage("Paint", "paint", 3, {}, ("Second",), 0.0)
WHEELS, BRAKES = (
    ShopLoop("Long", "Wheels", 9, "First", "Second"),
    ShopLoop("Short", "Wheels", 200, "Work", "Work"),
)


@pytest.mark.parametrize(
    ("further", "loops", "weeks", "places"),
    [
        # 20 + 25 worked days and 60 holidays are 105: 21 weeks of five days, and two more.
        ((), (), 23, 0),
        # Three days of paint make 108; the move to paint may wait.
        ((PAINT,), (), 23, 2),
        # 9 wheels at 2 per day take five days: 110, 22 weeks. One more place to wait.
        ((), (WHEELS,), 24, 1),
        ((PAINT,), (WHEELS,), 24, 3),
        # What the short package sends away is no work of the long one: 1 + 100 + 60 days.
        ((), (BRAKES,), 34, 1),
    ],
)
def test_how_far_it_reaches(
    further: tuple[Stage, ...], loops: tuple[ShopLoop, ...], weeks: int, places: int
) -> None:
    """The weeks that surely hold the longest work, 9 days a place to wait, and 4 of changeover.

    More is no fault, but costs time; less would lose slots.
    """
    long = package(stage("First", 20), stage("Second", 25, "First"), *further, name="Long")
    of = base(
        check(package="Long"),
        packages=(package(stage("Work", 1), name="Short"), long),
        bays=(replace(BAY, changeover_days=4), replace(BAY, name="B2")),
        shops=(Shop("Wheels", 2.0),),
        shop_loops=loops,
        working_weekdays=MON_TO_FRI,
        longest_wait_days=9,
    )
    until_last_in = (of.last_in_day - of.first_day).days + 1
    assert len(calendar_of(of).worked) == until_last_in + 7 * weeks + 4 + 9 * places


def test_600_worked_days_may_lose_the_holidays_of_three_years() -> None:
    """600 + 3 x 60 days of seven a week are 111 weeks, and two more; 299 lose 60: 51 and two."""
    for days, weeks in ((600, 113), (299, 53), (300, 62)):
        of = base(check(package="Heavy"), packages=(package(stage("Work", days)),))
        until_last_in = (of.last_in_day - of.first_day).days + 1
        assert len(calendar_of(of).worked) == until_last_in + 7 * weeks
