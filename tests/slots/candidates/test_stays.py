"""Stays laid out in arrays against the same stays walked day by day."""

from collections import Counter
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from capacity.facts import Base, Package, Stage, WorkProgress
from capacity.slots.candidates import Courses
from tests.reference import plain_dates, stories
from tests.reference.random_bases import small_base
from tests.reference.stories import fixed, visit
from tests.slots.building import built

MON_TO_FRI = frozenset(range(5))


def courses_of(base: Base) -> list[Courses]:
    slots = built(base).slots
    return [*(candidates.courses for candidates in slots.candidates), *slots.settled]


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=40)
def test_every_course_is_the_one_walked_day_by_day(rng: Random) -> None:
    base = small_base(rng)
    slots = built(base).slots
    date = slots.calendar.date
    for courses in courses_of(base):
        for number, in_day in enumerate(courses.stays.in_day):
            spans, out_day = plain_dates.stay(base, courses.check, date(in_day))
            assert date(courses.stays.out_day[number]) == out_day
            firsts, untils = courses.stays.starts[number], courses.stays.ends[number]
            laid = [(date(a), date(b)) for a, b in zip(firsts, untils, strict=True)]
            assert laid == [spans[stage.name] for stage in courses.work]


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=40)
def test_every_course_asks_the_man_hours_counted_day_by_day(rng: Random) -> None:
    base = small_base(rng)
    calendar = built(base).slots.calendar
    weeks = [(int(name[:4]), int(name[6:])) for name in calendar.week_names]
    for courses in courses_of(base):
        for number, in_day in enumerate(courses.stays.in_day):
            plain = plain_dates.man_hours(base, courses.check, calendar.date(in_day))
            asked = Counter(
                {
                    (*week, skill.name): hours
                    for week, row in zip(weeks, courses.man_hours[number], strict=True)
                    for skill, hours in zip(base.skills, row, strict=True)
                    if hours
                }
            )
            assert asked == pytest.approx(plain)


def test_days_off_lengthen_a_stay_and_not_its_work() -> None:
    # Friday 8 January: four worked days are Fri, Mon, Tue, Wed; out on Thursday.
    base = stories.base(stories.bays(1), visit("C1", 4, 4, 4), working_weekdays=MON_TO_FRI)
    (courses,) = courses_of(base)
    assert courses.stays.in_day.tolist()[0] == 4
    assert courses.stays.out_day.tolist()[0] == 10


def test_hours_of_a_stage_are_spread_over_its_worked_days_only() -> None:
    # 40 hours over Fri, Mon, Tue, Wed: 10 in the first week and 30 in the second.
    work = Package("4 days", (Stage("Work", "maintenance", 4, {"Mechanic": 40.0}),))
    base = stories.base(
        stories.bays(1),
        visit("C1", 4, 4, 4),
        packages=(work,),
        working_weekdays=MON_TO_FRI,
    )
    (courses,) = courses_of(base)
    assert courses.man_hours[0, :3, 0].tolist() == pytest.approx([10.0, 30.0, 0.0])


def test_a_fixed_check_asks_nothing_before_the_first_day() -> None:
    # Four days from Saturday 2 January on: two of them lie before Monday the 4th.
    work = Package("4 days", (Stage("Work", "maintenance", 4, {"Mechanic": 40.0}),))
    base = stories.base(stories.bays(1), fixed("C1", 4, -2, "B1"), packages=(work,))
    (courses,) = courses_of(base)
    assert courses.man_hours.sum() == pytest.approx(20.0)


@pytest.mark.parametrize(
    ("finished", "out"),
    # On Tuesday 5 January; on Friday the 8th, so on Saturday or, on worked days alone, on Monday;
    # before the first day of the plan.
    [(1, (2, 2)), (4, (5, 7)), (-2, (-1, 0))],
)
def test_a_finished_check_leaves_on_the_day_after_its_last(
    finished: int, out: tuple[int, int]
) -> None:
    base = stories.base(
        stories.bays(1),
        fixed("C1", 4, -4, "B1"),
        working_weekdays=MON_TO_FRI,
        progress=(WorkProgress("C1", stories.day(9), finished=stories.day(finished)),),
    )
    for leaves_on_days_off, day in zip((True, False), out, strict=True):
        (courses,) = courses_of(base.replace(leaves_on_days_off=leaves_on_days_off))
        assert courses.stays.out_day.tolist() == [day + 4]  # day 0 is number 4: it came on -4
        assert courses.man_hours.sum() == 0


def test_work_left_starts_on_the_first_day_of_the_plan() -> None:
    # In since day -2 with half of 40 hours left: two days from day 0 on, all their hours asked.
    work = Package("4 days", (Stage("Work", "maintenance", 4, {"Mechanic": 40.0}),))
    half_done = fixed("C1", 4, -2, "B1", remaining=0.5)
    base = stories.base(stories.bays(1), half_done, packages=(work,))
    (courses,) = courses_of(base)
    first = built(base).slots.calendar.first
    assert (courses.stays.starts[0, 0], courses.stays.ends[0, 0]) == (first, first + 2)
    assert courses.man_hours.sum() == pytest.approx(20.0)
