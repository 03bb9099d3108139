"""A day free in seven, in both readings. Source: 14 CFR 121.377, read.

That the strict reading looks at 168 h up to the end of a duty, and that the equivalent is the
days of the month / 7 rounded down, is ours.
"""

from datetime import date, timedelta

import pytest

from tests.working_time.rosters import broken, duty, night, roster

STRICT, EQUIVALENT = "free-day-in-seven", "free-days-in-month"
JUNE = date(2027, 6, 1)  # a month of 30 days


def worked(*numbers, days=30, first_day=JUNE):
    return roster(
        *(duty(number, first_day=first_day) for number in numbers), days=days, first_day=first_day
    )


def test_12_days_on_and_4_off_fails_strictly_and_passes_the_month():
    duties = worked(*range(1, 13), *range(17, 31))
    assert [day for day, _ in broken(STRICT, duties)] == [*range(7, 13), *range(23, 31)]
    # From 19:00 on the 12th to 07:00 on the 17th are 108 h: four free periods, floor(30 / 7) = 4.
    assert broken(EQUIVALENT, duties) == []


def test_three_free_days_in_a_month_of_30_are_too_few():
    assert broken(EQUIVALENT, worked(*range(1, 13), *range(16, 31))) == [(30, 3)]


def test_six_days_on_and_one_off_passes_both():
    duties = worked(*(number for number in range(1, 31) if number % 7))
    assert broken(STRICT, duties) == []
    assert broken(EQUIVALENT, duties) == []


def test_six_nights_on_and_one_off_passes_strictly():
    assert broken(STRICT, roster(*(night(n) for n in range(1, 29) if n % 7))) == []


def test_the_seventh_day_in_a_row_fails_strictly():
    assert broken(STRICT, worked(*range(1, 7))) == []
    assert broken(STRICT, worked(*range(1, 8))) == [(7, 12)]


def test_24_h_are_enough_and_less_is_not():
    on = [duty(number) for number in range(1, 7)]
    assert broken(STRICT, roster(*on, duty(7, start=19, hours=5), duty(8))) == []
    found = broken(STRICT, roster(*on, duty(7, start=18.75, hours=5), duty(8)))
    assert [day for day, _ in found] == [7, 8]


def test_a_call_on_the_day_off_takes_it():
    duties = worked(*(number for number in range(1, 15) if number % 7))
    assert broken(STRICT, duties) == []
    call = duty(7, start=9, hours=0, overtime=5, first_day=JUNE)
    with_call = roster(
        *sorted((*duties.periods, call), key=lambda period: period.start), first_day=JUNE
    )
    assert 8 in [day for day, _ in broken(STRICT, with_call)]


@pytest.mark.parametrize(("days", "needed"), [(6, 0), (7, 1), (13, 1), (14, 2), (28, 4), (30, 4)])
def test_a_month_needs_as_many_free_days_as_it_has_whole_weeks(days, needed):
    duties = worked(*range(1, days + 1), days=days)
    assert broken(EQUIVALENT, duties) == ([(days, 0)] if needed else [])
    resting = worked(*range(1, days + 1 - needed), days=days)
    assert broken(EQUIVALENT, resting) == []


def test_each_month_is_judged_by_itself():
    # All four free days of a plan over two halves of months lie in the first half.
    first = JUNE + timedelta(days=16)
    duties = worked(*range(5, 29), days=28, first_day=first)
    assert broken(EQUIVALENT, duties) == [(28, 0)]


def test_a_rest_over_the_turn_of_the_month_is_cut_there():
    first = date(2027, 6, 24)  # seven days of June, seven of July
    whole = worked(*range(1, 7), 9, days=9, first_day=first)
    assert broken(EQUIVALENT, whole) == []
    cut = roster(
        *(duty(n, first_day=first) for n in range(1, 7)),
        duty(7, start=0, hours=12, first_day=first),
        *(duty(n, start=12, hours=8, first_day=first) for n in range(8, 15)),
        days=14,
        first_day=first,
    )
    # 24 h from noon to noon over midnight are 12 h of June and 12 h of July.
    assert broken(EQUIVALENT, cut) == [(7, 0), (14, 0)]
