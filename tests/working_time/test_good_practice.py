"""Worked checks of the good-practice limits.

Source of the numbers: UK CAA Paper 2002/06. 11 h of rest, 48 h scheduled, and 60 h or seven days
in a row were read in a press report of DGCA circular AAC 05/2019, which repeats them; all other
numbers are from memory. The cases are worked out by hand from the numbers.
"""

import pytest

from tests.working_time.rosters import broken, duty, night, roster


def test_four_shifts_of_12_h_are_48_scheduled_hours_and_right():
    assert broken("scheduled-hours-in-7-days", roster(*map(duty, (1, 2, 3, 4)))) == []


def test_five_shifts_of_12_h_are_more_than_48_and_not_more_than_60():
    duties = roster(*map(duty, (1, 2, 3, 4, 5)))
    assert broken("scheduled-hours-in-7-days", duties) == [(5, 60)]
    assert broken("hours-in-7-days", duties) == []


def test_61_hours_with_overtime_are_too_many():
    duties = roster(*map(duty, (1, 2, 3, 4)), duty(5, overtime=1))
    assert broken("hours-in-7-days", duties) == [(5, 61)]


def test_seven_days_are_any_seven_and_not_a_calendar_week():
    duties = roster(*map(duty, (4, 5, 6, 8, 9)))
    assert broken("scheduled-hours-in-7-days", duties) == [(9, 60)]
    assert broken("scheduled-hours-in-7-days", roster(*map(duty, (4, 5, 6, 11, 12)))) == []


def test_an_unpaid_break_is_not_counted_in_the_week_but_in_the_shift():
    duties = roster(*(duty(number, hours=12.5, pause=0.5) for number in (1, 2, 3, 4)))
    assert broken("scheduled-hours-in-7-days", duties) == []
    assert broken("shift-length", duties) == [(number, 12.5) for number in (1, 2, 3, 4)]


def test_12_h_are_a_shift_and_13_h_with_overtime_are_the_most():
    assert broken("shift-length", roster(duty(1, hours=12))) == []
    assert broken("shift-length", roster(duty(1, hours=12.25))) == [(1, 12.25)]
    assert broken("shift-length", roster(duty(1, hours=12, overtime=3))) == []
    assert broken("shift-length-with-overtime", roster(duty(1, hours=12, overtime=1))) == []


def test_12_h_and_90_min_of_overtime_break_13_h():
    assert broken("shift-length-with-overtime", roster(duty(1, overtime=1.5))) == [(1, 13.5)]


def test_from_7_to_half_past_five_are_10_and_a_half_hours_of_rest():
    duties = roster(night(1), duty(2, start=17.5, hours=8))
    assert broken("rest-between-shifts", duties) == [(2, 10.5)]


def test_11_h_of_rest_are_enough_unless_overtime_takes_from_them():
    assert broken("rest-between-shifts", roster(duty(1, 7, 12), duty(2, 6, 8))) == []
    assert broken("rest-between-shifts", roster(duty(1, 7, 12, 0.5), duty(2, 6, 8))) == [(2, 10.5)]


def test_two_shifts_at_once_have_less_than_no_rest():
    assert broken("rest-between-shifts", roster(night(1), duty(2, start=6))) == [(2, -1)]


@pytest.mark.parametrize(
    ("hours", "most"),
    [(7.5, 6), (8, 6), (8.1, 4), (10, 4), (10.1, 2), (12, 2)],
)
def test_nights_in_a_row_by_their_length(hours, most):
    names = ("nights-in-a-row", "nights-over-8-h-in-a-row", "nights-over-10-h-in-a-row")
    as_many = roster(*(night(number, hours) for number in range(1, most + 1)))
    assert [broken(name, as_many) for name in names] == [[], [], []]
    one_more = roster(*(night(number, hours) for number in range(1, most + 2)))
    assert [found for name in names for found in broken(name, one_more)] == [(most + 1, most + 1)]


def test_three_nights_of_12_h_are_one_too_many():
    duties = roster(night(1), night(2), night(3))
    assert broken("nights-over-10-h-in-a-row", duties) == [(3, 3)]


def test_one_long_night_makes_the_run_one_of_long_nights():
    duties = roster(night(1, 8), night(2, 12), night(3, 8))
    assert broken("nights-over-10-h-in-a-row", duties) == [(3, 3)]
    assert broken("nights-over-10-h-in-a-row", roster(night(1), night(2), night(4))) == []


def test_a_night_called_in_lengthens_the_run():
    duties = roster(night(1), night(2), night(3, hours=0, overtime=6))
    assert broken("nights-over-10-h-in-a-row", duties) == [(3, 3)]


def test_a_night_called_in_counts_with_its_whole_length():
    called = [night(number, hours=0, overtime=12) for number in (1, 2, 3)]
    assert broken("nights-over-10-h-in-a-row", roster(*called)) == [(3, 3)]
    shorter = [night(number, hours=0, overtime=8) for number in (1, 2, 3)]
    assert broken("nights-over-10-h-in-a-row", roster(*shorter)) == []


def test_two_duties_on_a_day_are_one_day_worked():
    week = [duty(number, hours=6) for number in range(1, 8)]
    evening = duty(7, start=18, hours=2)
    assert broken("days-in-a-row", roster(*week, evening)) == []
    assert broken("days-in-a-row", roster(*week, evening, duty(8))) == [(8, 8)]


def test_seven_days_in_a_row_are_the_most():
    week = [duty(number, hours=7) for number in range(1, 8)]
    assert broken("days-in-a-row", roster(*week)) == []
    assert broken("days-in-a-row", roster(*week, duty(8, hours=7), duty(9, hours=7))) == [
        (8, 8),
        (9, 9),
    ]
    assert broken("days-in-a-row", roster(*week, duty(9, hours=7))) == []


def test_rest_days_are_two_with_11_h_or_59_h():
    # Off at 19:00 and back at 06:00 on the third day: 5 + 24 + 24 + 6 h = 59 h.
    assert broken("rest-day-block", roster(duty(1), duty(4, start=6))) == []
    assert broken("rest-day-block", roster(duty(1, overtime=1), duty(4, start=6))) == [(4, 58)]


def test_a_single_rest_day_is_no_block():
    assert broken("rest-day-block", roster(duty(1), duty(3))) == [(3, 36)]
    assert broken("rest-day-block", roster(duty(1), duty(2))) == []


def test_a_call_cuts_the_rest_days_in_two():
    call = duty(3, start=7, hours=0, overtime=4)
    assert broken("rest-day-block", roster(duty(1), duty(5))) == []
    assert broken("rest-day-block", roster(duty(1), call, duty(5))) == [(5, 44)]


def test_rest_after_nights_is_59_h():
    # Off at 07:00 of the day after; back at 18:00 two days later: 59 h.
    assert broken("rest-after-nights", roster(night(1), duty(4, start=18))) == []
    assert broken("rest-after-nights", roster(night(1), duty(4, start=17))) == [(4, 58)]
    assert broken("rest-after-nights", roster(night(1), night(2), duty(4))) == [(4, 24)]


def test_rest_after_more_than_3_nights_or_36_h_is_83_h():
    name = "rest-after-many-nights"
    three = [night(number) for number in (1, 2, 3)]
    assert broken(name, roster(*three, duty(6, start=18))) == []
    longer = [*three[:2], night(3, overtime=0.5)]
    assert broken(name, roster(*longer, duty(6, start=18))) == [(6, 58.5)]
    four_short = [night(number, hours=8, start=23) for number in (1, 2, 3, 4)]
    # Off at 07:00 of day 5; 83 h later it is 18:00 of day 8.
    assert broken(name, roster(*four_short, duty(8, start=18, hours=4))) == []
    assert broken(name, roster(*four_short, duty(8, start=17, hours=4))) == [(8, 82)]


def test_a_night_called_in_between_two_runs_takes_the_rest_of_the_first():
    duties = roster(night(1), night(2, hours=0, overtime=8), night(3), duty(7))
    assert broken("rest-after-nights", duties) == [(3, 16)]


def test_nights_end_by_8_also_with_overtime():
    assert broken("night-finish", roster(night(1, hours=13))) == []
    assert broken("night-finish", roster(night(1, overtime=1.5))) == [(1, 8.5)]
    assert broken("night-finish", roster(duty(1, start=0.5, hours=7.5, night=True))) == []
    assert broken("night-finish", roster(duty(1, start=0.5, hours=8, night=True))) == [(1, 8.5)]
    assert broken("night-finish", roster(duty(1, start=8, hours=12, night=True))) == []


def test_days_start_at_6_at_the_earliest():
    assert broken("day-start", roster(duty(1, start=6), night(3, start=5))) == []
    assert broken("day-start", roster(duty(1, start=5.5))) == [(1, 5.5)]


def test_four_starts_before_7_in_a_row_are_the_most():
    early = [duty(number, start=6.5, hours=8) for number in range(1, 6)]
    assert broken("early-starts-in-a-row", roster(*early[:4])) == []
    assert broken("early-starts-in-a-row", roster(*early)) == [(5, 5)]
    at_seven = [*early[:2], duty(3, start=7, hours=8), *early[3:]]
    assert broken("early-starts-in-a-row", roster(*at_seven)) == []
