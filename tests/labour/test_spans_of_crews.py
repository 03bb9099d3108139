"""A crew that is there for a span of days, by both counts of its hours, by hand."""

from dataclasses import replace

import pytest

from capacity.crews.crew_shifts import present
from capacity.facts import Absence, Base
from capacity.labour.available import available_hours, crew_hours
from capacity.labour.calendar import calendar_of
from capacity.man_hour_plan.roster_heads import present as present_on_shift
from capacity.plans.audit import audit
from capacity.plans.man_hours import GivenHours
from capacity.plans.worked_days import WorkedDays
from capacity.working_time.duty_periods import duty_periods
from tests.bases import day
from tests.plans.stories import PLENTY, base, check, plan

TWO = replace(PLENTY, name="Two", heads=2)
ONE = Absence("Two", day(0), day(30), 1)


def given(of: Base, number: int) -> tuple[float, float]:
    searched = crew_hours(of, calendar_of(of))["Two"][number]
    return float(searched), GivenHours(of, WorkedDays(of)).on_day(day(number))["Two"]


@pytest.mark.parametrize(
    ("first", "last", "there"),
    [
        (None, None, [0, 1, 2, 3, 4]),
        (day(2), None, [2, 3, 4]),
        (None, day(2), [0, 1, 2]),
        (day(1), day(3), [1, 2, 3]),
        (day(3), day(3), [3]),
        (day(-9), day(-1), []),
        (day(4), day(900), [4]),
    ],
)
def test_hours_are_those_of_its_days_both_included(first, last, there) -> None:
    crew = replace(TWO, first=first, last=last)
    of = base(crews=(crew,))
    assert [n for n in range(5) if given(of, n) == (20, 20)] == there
    assert [n for n in range(5) if given(of, n) == (0, 0)] == sorted({*range(5)} - {*there})
    assert [n for n in range(5) if present(crew, of, day(n)) == 2] == there
    assert [n for n in range(5) if present_on_shift(crew, of, day(n)) == 2] == there
    on_duty = {period.day for period in duty_periods(crew, of).periods}
    assert [n for n in range(5) if day(n) in on_duty] == there


def test_who_is_away_is_away_from_those_who_are_there() -> None:
    of = base(crews=(replace(TWO, first=day(1), last=day(2)),), absences=(ONE,))
    assert [given(of, n) for n in range(4)] == [(0, 0), (10, 10), (10, 10), (0, 0)]


def test_caps_of_the_week_are_shares_of_the_hours_there() -> None:
    """Three days of 20 h in the first week: 60 h, of which 20 % overtime and 25 % contract."""
    of = base(check(), crews=(replace(TWO, first=day(2), last=day(4)),))
    found = available_hours(of, calendar_of(of))
    assert found.regular[0, 0] == 60.0
    assert (found.overtime_cap[0, 0], found.contract_cap[0, 0]) == pytest.approx((12.0, 15.0))
    week = audit(of, plan(not_placed=("C1",))).weeks[0]
    assert (week.regular, week.overtime_cap, week.contract_cap) == pytest.approx((60.0, 12.0, 15.0))
    assert found.regular[1, 0] == 0.0
