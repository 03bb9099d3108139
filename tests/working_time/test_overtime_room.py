"""The most overtime by the rules: worked by hand, against the rules, against a linear program."""

from dataclasses import replace
from datetime import date, time, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from capacity.facts import Shift
from capacity.working_time.breaches import breaches_of
from capacity.working_time.duty import ONE_DAY, Duties
from capacity.working_time.limits import RuleSet
from capacity.working_time.overtime_caps import overtime_caps
from capacity.working_time.overtime_room import most_overtime, overtime_room
from capacity.working_time.rule_sets import RULE_SETS
from tests.working_time.rosters import MONDAY, beyond, crew_base, duty, limit, roster, rosters

GOOD_PRACTICE = RULE_SETS["good-practice"]
DIRECTIVE = RULE_SETS["working-time-directive"]
ALL = RuleSet("all", "", tuple(x for one in RULE_SETS.values() for x in one.limits))
WITH_A_CHOICE = {
    "rest-after-many-nights",
    "weekly-rest",
    "free-day-in-seven",
    "free-days-in-month",
}
EXACT = RuleSet("exact", "", tuple(x for x in ALL.limits if x.id not in WITH_A_CHOICE))


def days(number: int) -> date:
    return MONDAY + timedelta(days=number - 1)


def test_12_h_shifts_leave_one_hour_up_to_13():
    crew, base = crew_base("D D D D - - - -", (Shift("D", time(7), 12),))
    assert overtime_room(crew, base, GOOD_PRACTICE, MONDAY) == 1
    assert overtime_room(crew, base, GOOD_PRACTICE, MONDAY, days=7) == 4
    assert overtime_room(crew, base, GOOD_PRACTICE, days(5)) == 0


def test_rest_of_11_h_binds_between_a_late_and_an_early_shift():
    shifts = (Shift("E", time(14), 8), Shift("D", time(10), 8))
    crew, base = crew_base("E D - - -", shifts)
    # Off at 22:00, back at 10:00: 12 h.
    assert overtime_room(crew, base, GOOD_PRACTICE, MONDAY) == 1
    assert overtime_room(crew, base, GOOD_PRACTICE, days(2)) == 5


def test_60_h_bind_over_seven_days_and_what_is_worked_elsewhere_counts():
    crew, base = crew_base("D D D D D - -", (Shift("D", time(7), 8),))
    assert overtime_room(crew, base, GOOD_PRACTICE, MONDAY) == 5
    assert overtime_room(crew, base, GOOD_PRACTICE, MONDAY, days=7) == 20
    worked = {days(number): 4.5 for number in (1, 2, 3, 4)}
    room = overtime_room(crew, base, GOOD_PRACTICE, days(5), overtime_hours_by_day=worked)
    assert room == 2
    # The days of the second week share windows with the first.
    in_week_two = overtime_room(
        crew, base, GOOD_PRACTICE, days(8), days=7, overtime_hours_by_day={days(5): 5}
    )
    assert in_week_two == 20
    assert (
        overtime_room(crew, base, GOOD_PRACTICE, days(8), overtime_hours_by_day={days(5): 5}) == 5
    )


def test_the_average_of_48_h_binds_over_the_plan():
    crew, base = crew_base("D D D D D - -", (Shift("D", time(7), 9),))
    assert overtime_room(crew, base, DIRECTIVE, MONDAY, days=28) == 4 * 3
    assert overtime_room(crew, base, DIRECTIVE, MONDAY) == 4  # 20:00 to 07:00 is 11 h of rest


def test_a_call_on_a_day_off_takes_from_rest_and_total():
    crew, base = crew_base("E - D - - - -", (Shift("E", time(14), 8), Shift("D", time(7), 8)))
    assert overtime_room(crew, base, DIRECTIVE, MONDAY) == 16
    call = {days(2): 6}  # the pattern's usual shift starts at 14:00, 16 h after 22:00
    assert overtime_room(crew, base, DIRECTIVE, MONDAY, overtime_hours_by_day=call) == 5


def test_a_night_may_run_until_8():
    crew, base = crew_base("N N - - - - -", (Shift("N", time(22), 9.5, night=True),))
    assert overtime_room(crew, base, GOOD_PRACTICE, MONDAY) == 0.5


LATE = Shift("L", time(18), 4)


def test_83_h_of_rest_bind_after_four_nights():
    crew, base = crew_base("N N N N - - - L - -", (Shift("N", time(22), 8, night=True), LATE))
    # Off at 06:00 of the fifth day, back at 18:00 of the eighth: 84 h.
    assert overtime_room(crew, base, GOOD_PRACTICE, days(4)) == 1
    assert overtime_room(crew, base, GOOD_PRACTICE, days(1)) == 2  # ends by 08:00


def test_three_nights_stay_within_36_h_where_the_rest_after_them_is_short():
    # Nights of 11.5 h up to 06:30, 1.5 h short of 08:00, of 13 h and of 11 h of rest.
    shifts = (Shift("N", time(19), 11.5, night=True), LATE)
    crew, base = crew_base("N N N - - L - -", shifts)  # back after 59.5 h
    assert overtime_room(crew, base, GOOD_PRACTICE, days(1), days=2) == 1.5
    assert overtime_room(crew, base, GOOD_PRACTICE, days(3)) == 0.5
    crew, base = crew_base("N N N - - - - L - -", shifts)  # back after 107.5 h
    assert overtime_room(crew, base, GOOD_PRACTICE, days(1), days=3) == 4.5


def test_overtime_must_not_push_the_last_long_rest_out_of_the_seven_days():
    # 36 h off from day 1 to day 3; the seven days up to the end of day 8 begin with them.
    crew, base = crew_base("D - D D D D D D - - - - - -", (Shift("D", time(7), 12),))
    assert overtime_room(crew, base, DIRECTIVE, days(8)) == 1
    assert overtime_room(crew, base, DIRECTIVE, days(1)) == 1


def test_a_free_day_that_the_month_needs_is_kept():
    shifts = (Shift("D", time(7), 10), Shift("L", time(12), 10))
    equivalent = RULE_SETS["one-day-in-seven-equivalent"]
    crew, base = crew_base("D D D D D L -", shifts)
    # Off at 22:00, back at 07:00 on the second day: 33 h. January has 28 days of the plan and
    # four free days; the last rest is cut at its end after 26 h.
    assert overtime_room(crew, base, equivalent, days(6)) == 9
    assert overtime_room(crew, base, equivalent, days(27)) == 2
    # Six days need no free day: only the next shift and the clock bind.
    room = overtime_room(crew, base, equivalent, days(6), first_day=days(6), until=days(12))
    assert room == 14


def test_without_a_limit_on_it_a_day_has_24_hours():
    crew, base = crew_base("D - - -", (Shift("D", time(7), 8),))
    strict = RULE_SETS["one-day-in-seven-strict"]
    assert overtime_room(crew, base, strict, MONDAY) == 16


def test_a_roster_that_breaks_a_limit_leaves_no_room():
    crew, base = crew_base("D D D D D D - -", (Shift("D", time(7), 11),))
    assert overtime_room(crew, base, GOOD_PRACTICE, MONDAY, days=7) == 0


@pytest.mark.parametrize(("number", "length"), [(1, 0), (0, 1), (28, 2)])
def test_days_that_are_not_looked_at_are_refused(number, length):
    crew, base = crew_base("D -", (Shift("D", time(7), 8),))
    with pytest.raises(ValueError, match="not within the days"):
        overtime_room(crew, base, GOOD_PRACTICE, days(number), days=length)


def test_caps_are_those_of_a_roster_without_overtime():
    with pytest.raises(ValueError, match="without overtime"):
        overtime_caps(roster(duty(1, overtime=1)), GOOD_PRACTICE)


def test_a_cap_names_the_limit_it_comes_from():
    caps = overtime_caps(roster(duty(1), duty(2)), GOOD_PRACTICE)
    assert {(cap.hours, cap.limit) for cap in caps if cap.first == MONDAY < cap.until} >= {
        (1.0, limit("shift-length-with-overtime")),
        (1.0, limit("rest-between-shifts")),
        (12.0, None),
    }


def with_overtime(duties: Duties, hours: dict[date, float]) -> Duties:
    return replace(
        duties,
        periods=tuple(
            replace(period, end=period.end + timedelta(hours=hours.get(period.day, 0.0)))
            for period in duties.periods
        ),
    )


def is_worse(before: Duties, after: Duties, rule_set: RuleSet) -> bool:
    old = beyond(breaches_of(before, rule_set))
    new = beyond(breaches_of(after, rule_set))
    return any(amount > old.get(key, 0.0) + 1e-4 for key, amount in new.items())


@settings(max_examples=100, deadline=None)
@given(rosters(overtime=False, calls=False), st.data())
def test_the_room_on_a_day_is_exact(duties, data):
    if not duties.periods:
        return
    caps = overtime_caps(duties, EXACT)
    worked = {period.day for period in duties.periods}
    day = data.draw(st.sampled_from(sorted(worked)))
    room = most_overtime(caps, worked, day, day + ONE_DAY)
    assert not is_worse(duties, with_overtime(duties, {day: room}), EXACT)
    of_the_clock = min(cap.hours for cap in caps if cap.limit is None and cap.first == day)
    if room < of_the_clock:
        assert is_worse(duties, with_overtime(duties, {day: room + 0.25}), EXACT)


@settings(max_examples=100, deadline=None)
@given(rosters(overtime=False), st.data())
def test_overtime_within_the_caps_breaks_no_rule_further(duties, data):
    caps = overtime_caps(duties, ALL)
    worked = {period.day for period in duties.scheduled}
    given_hours: dict[date, float] = {}
    for day in data.draw(st.permutations(sorted(worked))):
        room = most_overtime(caps, worked, day, day + ONE_DAY, given_hours)
        given_hours[day] = data.draw(st.sampled_from([0.0, 0.5, 1.0])) * room
    assert not is_worse(duties, with_overtime(duties, given_hours), ALL)


@settings(max_examples=60, deadline=None)
@given(rosters(overtime=False, calls=False, days=14), st.integers(1, 8), st.integers(1, 6))
def test_the_room_over_several_days_is_that_of_a_linear_program(duties, first, length):
    """Reference: HiGHS by scipy.optimize.linprog on the same caps."""
    caps = overtime_caps(duties, EXACT)
    worked = {period.day for period in duties.periods}
    span = [days(number) for number in range(first, first + length)]
    rows = np.array([[cap.first <= day < cap.until for day in span] for cap in caps], dtype=float)
    if not caps:
        return
    bounds = [(0, None if day in worked else 0) for day in span]
    reference = linprog(-np.ones(length), rows, [cap.hours for cap in caps], bounds=bounds)
    room = most_overtime(caps, worked, span[0], span[-1] + ONE_DAY)
    assert room == pytest.approx(-reference.fun, abs=1e-6)
