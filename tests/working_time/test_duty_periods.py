"""A crew's pattern as the duty periods of one of its people, and the breaches of all crews."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta

import pytest

from capacity.facts import Shift
from capacity.working_time.breaches import breaches, worst_of
from capacity.working_time.duty import Duties, DutyPeriod
from capacity.working_time.duty_periods import duty_periods
from capacity.working_time.rule_sets import RULE_SETS
from tests.working_time.rosters import MONDAY, crew_base, duty, roster

DAY = Shift("D", time(7), 12)
NIGHT = Shift("N", time(19), 12, night=True)
GOOD_PRACTICE = RULE_SETS["good-practice"]


def test_the_pattern_repeats_over_the_weeks_of_the_plan():
    crew, base = crew_base("D D N N - - - -", (DAY, NIGHT), weeks=2)
    duties = duty_periods(crew, base)
    assert (duties.first_day, duties.until) == (MONDAY, date(2027, 1, 18))
    assert [(period.day.day, period.night) for period in duties.periods] == [
        (4, False),
        (5, False),
        (6, True),
        (7, True),
        (12, False),
        (13, False),
        (14, True),
        (15, True),
    ]
    last = duties.periods[-1]
    assert (last.start, last.end) == (datetime(2027, 1, 15, 19), datetime(2027, 1, 16, 7))


def test_a_cycle_that_starts_later_is_followed_backwards():
    crew, base = crew_base("D - N -", (DAY, NIGHT), weeks=1)
    later = replace(crew, starts_cycle_on=date(2027, 1, 9))
    duties = duty_periods(later, base)
    assert [(period.day.day, period.night) for period in duties.periods] == [
        (5, False),
        (7, True),
        (9, False),
    ]


def test_days_on_which_the_base_does_not_work_have_no_shift():
    crew, base = crew_base("D", (DAY,), weeks=1, working_weekdays=frozenset(range(5)))
    assert [period.day.day for period in duty_periods(crew, base).periods] == [4, 5, 6, 7, 8]
    crew, base = crew_base("D", (DAY,), weeks=1, holidays="IE")
    days = duty_periods(crew, base, first_day=date(2026, 12, 24), until=date(2026, 12, 28))
    assert [period.day.day for period in days.periods] == [24, 27]


def test_hours_are_attended_ones_and_a_break_makes_the_shift_longer():
    crew, base = crew_base("D", (replace(DAY, hours=11.5),), weeks=1)
    assert {period.length_hours for period in duty_periods(crew, base).periods} == {11.5}
    periods = duty_periods(crew, base, {MONDAY: 1.5}, break_hours={"D": 0.5}).periods
    assert {period.length_hours for period in periods} == {12}
    assert [period.hours for period in periods[:2]] == [13, 11.5]
    assert periods[0].end == datetime(2027, 1, 4, 20, 30)
    assert periods[0].overtime_hours == 1.5


def test_overtime_on_a_day_off_is_a_call_for_the_usual_shift():
    crew, base = crew_base("N D D - -", (DAY, NIGHT), weeks=1)
    call = duty_periods(crew, base, {date(2027, 1, 8): 6}).periods[3]
    assert call.called_in
    assert (call.start, call.end) == (datetime(2027, 1, 8, 7), datetime(2027, 1, 8, 13))
    assert (call.scheduled_hours, call.overtime_hours, call.night) == (0, 6, False)


def test_nobody_is_called_in_for_nothing():
    crew, base = crew_base("D -", (DAY,), weeks=1)
    assert len(duty_periods(crew, base, {date(2027, 1, 5): 0}).periods) == 4
    idle, base = crew_base("- -", (), weeks=1)
    assert duty_periods(idle, base).periods == ()
    with pytest.raises(ValueError, match="no shift that it could be called in for"):
        duty_periods(idle, base, {MONDAY: 3})


@pytest.mark.parametrize("overtime", [{MONDAY: -1}, {date(2027, 2, 1): 1}, {date(2027, 1, 3): 1}])
def test_overtime_below_0_or_outside_the_days_is_refused(overtime):
    crew, base = crew_base("D -", (DAY,))
    with pytest.raises(ValueError, match="below 0 or outside the days"):
        duty_periods(crew, base, overtime)


def test_impossible_periods_are_refused():
    noon = datetime(2027, 1, 4, 12)
    with pytest.raises(ValueError, match="out of order"):
        DutyPeriod(noon, noon + timedelta(hours=2), noon + timedelta(hours=1), night=False)
    with pytest.raises(ValueError, match="break longer than itself"):
        duty(1, hours=8, pause=9)
    with pytest.raises(ValueError, match="not in the order"):
        roster(duty(2), duty(1))
    with pytest.raises(ValueError, match="outside the days"):
        roster(duty(8), days=7)
    assert Duties(MONDAY, MONDAY, ()).days == 0


def test_four_on_four_off_of_12_h_days_breaks_no_good_practice():
    _, base = crew_base("D D D D - - - -", (DAY,), weeks=13)
    assert breaches(base, GOOD_PRACTICE) == {"Red": ()}


def test_each_crew_is_judged_with_its_own_overtime():
    _, base = crew_base("D D D D - - - -", (DAY,))
    crews = (*base.crews, replace(base.crews[0], name="Blue"))
    found = breaches(base.replace(crews=crews), GOOD_PRACTICE, {"Blue": {MONDAY: 1.5}})
    assert found["Red"] == ()
    assert [(breach.limit.id, breach.day, breach.value) for breach in found["Blue"]] == [
        ("shift-length-with-overtime", MONDAY, 13.5),
        ("rest-between-shifts", date(2027, 1, 5), 10.5),
    ]


def test_overtime_of_an_unknown_crew_is_refused():
    _, base = crew_base("D -", (DAY,))
    with pytest.raises(ValueError, match=r"not there: \['Blue'\]"):
        breaches(base, GOOD_PRACTICE, {"Blue": {MONDAY: 1}})


def test_the_worst_of_a_limit_stands_for_all():
    _, base = crew_base("D D D D - - - -", (DAY,))
    overtime = {date(2027, 1, 4): 1.5, date(2027, 1, 6): 2.5, date(2027, 1, 7): 1.5}
    found = worst_of(breaches(base, GOOD_PRACTICE, {"Red": overtime}))
    assert [(one.crew, one.worst.limit.id, one.worst.value, one.times) for one in found] == [
        ("Red", "shift-length-with-overtime", 14.5, 3),
        ("Red", "rest-between-shifts", 9.5, 2),
    ]
