"""When a month's shortfall is significant.

Source of the rule: AMC 145.A.30(d) paragraph 8, UK consolidation of 21 November 2021 (seen):
"more than a 25 % shortfall in available man-hours during a calendar month for any one of the
functions". The figures of the cases are worked out by hand from it.
"""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from capacity.facts import Function
from capacity.man_hour_plan.month_function import MonthFunction
from capacity.man_hour_plan.months import month_name, months_later, next_month, parts_by_month
from capacity.man_hour_plan.shortfall import is_significant, shortfall


def month(function: Function, planned: float, available: float, needed: float = 0) -> MonthFunction:
    """January 2027, whole."""
    return MonthFunction(
        "2027-01", function, date(2027, 1, 1), date(2027, 2, 1), planned, available, needed
    )


@pytest.mark.parametrize(
    ("planned", "actual", "share", "flagged"),
    [
        (4000, 3000, 0.25, False),  # "more than"
        (4000, 2999, 0.25025, True),
        (4000, 4000, 0.0, False),
        (1000, 0, 1.0, True),
    ],
)
def test_a_quarter_exactly_is_not_flagged_and_an_hour_more_is(planned, actual, share, flagged):
    of_month = month(Function.PERFORM, planned, actual)
    assert of_month.shortfall == pytest.approx(share)
    assert of_month.is_significant is flagged


def test_one_function_is_flagged_though_the_total_is_only_18_percent_short():
    months = (month(Function.PERFORM, 9000, 7500), month(Function.INSPECT, 1000, 700))
    planned = sum(m.planned for m in months)
    available = sum(m.available for m in months)
    assert (planned, available) == (10_000, 8_200)
    assert shortfall(planned, available) == pytest.approx(0.18)
    assert [(m.function, m.is_significant) for m in months] == [
        (Function.PERFORM, False),
        (Function.INSPECT, True),  # 30 %
    ]


def test_two_half_months_of_50_and_0_percent_are_25_percent_and_not_flagged():
    first_half, second_half = (1000.0, 500.0), (1000.0, 1000.0)
    assert is_significant(*first_half)  # a view by half month would be red
    whole = month(Function.PERFORM, 2000.0, first_half[1] + second_half[1])
    assert whole.shortfall == 0.25
    assert not whole.is_significant


def test_the_rounding_of_a_sum_is_not_an_excess():
    planned = sum([0.1] * 40)
    available = sum([0.1] * 30)
    assert not is_significant(planned, available)
    assert not is_significant(planned, available - 1e-9)


def test_need_has_a_denominator_of_its_own():
    of_month = month(Function.PERFORM, 1000.0, 900.0, needed=1500.0)
    assert of_month.shortfall == pytest.approx(0.1)
    assert of_month.shortfall_of_need == pytest.approx(0.4)  # 600 of 1,500
    assert (of_month.is_significant, of_month.is_short_of_need) == (False, True)
    assert of_month.absent == pytest.approx(100.0)


def test_hours_to_spare_are_below_nought_and_nothing_planned_is_no_share():
    assert shortfall(100.0, 150.0) == pytest.approx(-0.5)
    assert shortfall(0.0, 0.0) is None
    assert not is_significant(0.0, 0.0)


@given(st.floats(1, 1e6), st.floats(0, 1))
def test_flagged_is_what_lies_more_than_a_quarter_below(planned, share):
    available = planned * share
    if abs(share - 0.75) > 1e-5:
        assert is_significant(planned, available) == (share < 0.75)


@pytest.mark.parametrize(
    ("day", "later"),
    [("2027-01-04", "2027-04-04"), ("2027-11-30", "2028-02-29"), ("2026-11-30", "2027-02-28")],
)
def test_three_months_later_is_the_same_day_or_the_last_of_the_month(day, later):
    # Review at least every 3 months: AMC 145.A.30(d) paragraph 7 (seen).
    assert months_later(date.fromisoformat(day), 3) == date.fromisoformat(later)


def test_a_range_is_cut_at_the_turns_of_the_months():
    parts = list(parts_by_month(date(2026, 12, 28), date(2027, 2, 3)))
    assert parts == [
        (date(2026, 12, 28), date(2027, 1, 1)),
        (date(2027, 1, 1), date(2027, 2, 1)),
        (date(2027, 2, 1), date(2027, 2, 3)),
    ]
    assert [month_name(first) for first, _ in parts] == ["2026-12", "2027-01", "2027-02"]
    assert next_month(date(2026, 12, 31)) == date(2027, 1, 1)
