from datetime import date
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from capacity.facts import Base, Check, Closure, Status
from tests.reference import plain_dates, stories
from tests.reference.random_bases import small_base
from tests.reference.second_solutions import clash_of_fixed
from tests.reference.stories import bays, day, fixed, visit
from tests.slots.building import built

MON_TO_FRI = frozenset(range(5))


def in_days(base: Base) -> list[int]:
    """Return the days on which the one movable check may come in."""
    slots = built(base).slots
    (candidates,) = slots.candidates
    numbers = candidates.courses.stays.in_day[candidates.course] - slots.calendar.first
    return sorted(numbers.tolist())


def test_a_booked_check_may_come_in_late_and_pays_for_it_in_days_past() -> None:
    base = stories.base(bays(1), visit("C1", 3, 2, 4), longest_delay_days=2)
    assert in_days(base) == [2, 3, 4, 5, 6]
    assert built(base).slots.candidates[0].courses.past.tolist() == [0, 0, 0, 1, 2]


def test_an_option_may_not_come_in_late() -> None:
    option = visit("C1", 3, 2, 4, status=Status.OPTION, price=9.0)
    assert in_days(stories.base(bays(1), option)) == [2, 3, 4]


def test_nobody_comes_in_before_the_first_day_or_after_the_last_week() -> None:
    early, late = visit("C1", 3, -5, 1), visit("C1", 3, 5, 40)
    assert in_days(stories.base(bays(1), early, longest_delay_days=0)) == [0, 1]
    assert in_days(stories.base(bays(1), late, weeks=1)) == [5, 6]


def test_a_day_off_is_no_day_to_come_in_before_the_window_ends() -> None:
    # Days 5 and 6 are Saturday and Sunday. On the last of its days a check may still come in.
    week = visit("C1", 3, 3, 8)
    base = stories.base(bays(1), week, working_weekdays=MON_TO_FRI, longest_delay_days=0)
    assert in_days(base) == [3, 4, 7, 8]
    weekend = visit("C1", 3, 3, 6)
    base = stories.base(bays(1), weekend, working_weekdays=MON_TO_FRI, longest_delay_days=0)
    assert in_days(base) == [3, 4, 6]


def test_no_stay_touches_a_closed_day_but_its_changeover_may() -> None:
    # Three days and one of changeover; closed on days 5 and 6.
    closed = (Closure("B1", day(5), day(6)),)
    base = stories.base(
        bays(1, changeover_days=1), visit("C1", 3, 1, 8), closures=closed, longest_delay_days=0
    )
    assert in_days(base) == [1, 2, 7, 8]


def test_stay_and_changeover_both_end_before_a_fixed_check_comes_in() -> None:
    # Fixed from day 6 to 9, then a day of changeover.
    both = fixed("F", 3, 6, "B1"), visit("C1", 3, 0, 11)
    base = stories.base(bays(1, changeover_days=1), *both, longest_delay_days=0)
    assert in_days(base) == [0, 1, 2, 10, 11]


def test_money_counts_early_days_to_latest_in_and_late_days_past_agreed_out() -> None:
    check = visit(
        "C1", 3, 0, 2, agreed_out=day(4), early_cost_per_day=10.0, late_cost_per_day=100.0
    )
    base = stories.base(bays(1), check, longest_delay_days=1)
    # In on day 0, 1, 2, 3: early by 2, 1, 0, 0 days; out on 3, 4, 5, 6: late by 0, 0, 1, 2.
    courses = built(base).slots.candidates[0].courses
    assert courses.money.tolist() == pytest.approx([20.0, 10.0, 100.0, 200.0])


def test_an_option_earns_its_price() -> None:
    option = visit("C1", 3, 2, 2, status=Status.OPTION, price=900.0)
    courses = built(stories.base(bays(1), option)).slots.candidates[0].courses
    assert courses.money.tolist() == pytest.approx([-900.0])


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=40)
def test_a_group_takes_a_check_on_just_the_days_on_which_one_of_its_bays_could(
    rng: Random,
) -> None:
    base = small_base(rng)
    assume(not clash_of_fixed(base))
    slots = built(base).slots
    for candidates in slots.candidates:
        check, courses = candidates.courses.check, candidates.courses
        found = {
            (int(group), slots.calendar.date(courses.stays.in_day[course]))
            for course, group in zip(candidates.course, candidates.groups[:, 0], strict=True)
        }
        by_bay = days_by_bay(base, check)
        expected = {
            (number, in_day)
            for number, group in enumerate(slots.groups)
            for bay in group.bays
            for in_day in by_bay.get(bay, ())
        }
        assert found == expected


def days_by_bay(base: Base, check: Check) -> dict[str, set[date]]:
    """Walk every day and bay in plain dates; leave out those that clash with a fixed check."""
    others = [other for other in base.checks if other.status is Status.FIXED]
    standing = [plain_dates.ways_of(base, other)[0] for other in others]
    by_bay: dict[str, set[date]] = {}
    for way in plain_dates.ways_of(base, check):
        off = not plain_dates.is_worked(base, way.first)
        idle = off and way.first < min(check.latest_in, base.last_in_day)
        if not idle and not any(way.clashes(other) for other in standing):
            by_bay.setdefault(way.bay, set()).add(way.first)
    return by_bay
