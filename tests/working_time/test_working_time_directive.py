"""Worked checks of the limits of Directive 2003/88/EC, Articles 3, 5, 6 and 8.

The articles were read in a public summary; 17 weeks as four months, and one rest day in seven
left out of the average of night work, are from memory. Cases worked out by hand.
"""

from datetime import date, timedelta

import pytest

from tests.working_time.rosters import broken, duty, night, roster

DAYS_OF_WEEK = {62: (12, 12, 12, 13, 13), 34: (8.5, 8.5, 8.5, 8.5), 48: (12, 12, 12, 12)}


def weeks(*hours, reference_weeks=None):
    periods = [
        duty(7 * week + place, hours=length)
        for week, total in enumerate(hours)
        for place, length in enumerate(DAYS_OF_WEEK[total], start=1)
    ]
    return roster(*periods, days=7 * (reference_weeks or len(hours)))


def test_62_62_34_34_keeps_the_average_and_breaks_60_h():
    duties = weeks(62, 62, 34, 34)
    assert broken("average-weekly-hours", duties) == []
    assert [day for day, _ in broken("hours-in-7-days", duties)] == [5, 8, 9, 10, 11, 12]


def test_one_hour_of_overtime_more_breaks_the_average():
    duties = weeks(62, 62, 34, 34)
    last = duty(26, hours=4.5, overtime=1)
    more = roster(*duties.periods, last, days=28)
    assert broken("average-weekly-hours", more) == [(28, (192 + 5.5) / 4)]


def test_the_reference_period_rolls_over_17_weeks():
    # 17 weeks of 48 h; 14 h more in the first week leave the window when the last week begins.
    assert broken("average-weekly-hours", weeks(*[48] * 17)) == []
    duties = weeks(62, *[48] * 17)
    found = broken("average-weekly-hours", duties)
    assert [day for day, _ in found] == [119, 120, 121, 122, 123]
    assert found[0][1] == pytest.approx((62 + 16 * 48) / 17)


def test_a_plan_of_a_few_days_is_held_to_a_whole_week():
    assert broken("average-weekly-hours", roster(duty(1), duty(2), days=2)) == []


def test_night_workers_have_8_h_in_24_on_average_over_six_days_a_week():
    four = [night(7 * week + place) for week in range(4) for place in (1, 2, 3, 4)]
    assert broken("average-night-hours", roster(*four)) == []
    five = [night(7 * week + place) for week in range(4) for place in (1, 2, 3, 4, 5)]
    assert broken("average-night-hours", roster(*five)) == [(28, 10)]
    by_day = [duty(7 * week + place) for week in range(4) for place in (1, 2, 3, 4, 5)]
    assert broken("average-night-hours", roster(*by_day)) == []


def test_overtime_is_not_part_of_the_normal_hours_of_night_work():
    nights = [night(7 * week + place, overtime=3) for week in range(4) for place in (1, 2, 3, 4)]
    assert broken("average-night-hours", roster(*nights)) == []


def test_weekly_rest_is_35_h_at_a_stretch():
    # Off on Saturday at 19:00, back on Monday at 06:00: 35 h.
    weeks_on = [
        duty(7 * week + place, start=6, hours=13 if place == 6 else 8)
        for week in range(3)
        for place in range(1, 7)
    ]
    assert broken("weekly-rest", roster(*weeks_on)) == []
    later = [*weeks_on[:5], duty(6, start=6, hours=13, overtime=1), *weeks_on[6:]]
    # The seven days before Saturday's 20:00 begin at 20:00 too, 34 h before the first start;
    # those before the ends of the second week hold the rest of 34 h.
    assert broken("weekly-rest", roster(*later)) == [(day, 34) for day in (6, *range(8, 14))]


def test_daily_rest_is_11_h():
    assert broken("daily-rest", roster(night(1), duty(2, start=17.5))) == [(2, 10.5)]


def test_the_window_of_four_months_is_119_days():
    assert timedelta(weeks=17).days == 119 < (date(2027, 5, 1) - date(2027, 1, 1)).days
