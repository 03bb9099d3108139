"""The in day lies in the check's window and in the plan's weeks.

C1 may come in on days 5 to 10 and up to 5 days late; the plan's 8 weeks are days 0 to 55.
"""

import pytest

from capacity.facts import Check, Status
from capacity.plans.audit import audit
from tests.bases import BAY

from .stories import base, check, day, placed, plan


def broken(one: Check, in_day: int) -> tuple[str, ...]:
    """Place the check alone in bay B1 and return what breaks."""
    return audit(base(one), plan(placed("C1", in_day))).broken


@pytest.mark.parametrize("in_day", [5, 10, 15])
def test_from_earliest_in_to_the_longest_delay_stands(in_day: int) -> None:
    """Both ends of the window and the last day of delay are allowed."""
    assert broken(check(), in_day) == ()


def test_before_earliest_in() -> None:
    """Day 4 is one day too soon."""
    assert broken(check(), 4) == (
        "C1 comes in on Fri 8 Jan 2027, before its Earliest in Sat 9 Jan 2027.",
    )


def test_past_the_longest_delay() -> None:
    """Latest in is day 10; day 16 is six days past it, five are allowed."""
    assert broken(check(), 16) == (
        "C1 comes in on Wed 20 Jan 2027, past its Latest in Thu 14 Jan 2027 "
        "by more than the Longest delay days 5.",
    )


def test_before_the_first_day() -> None:
    """An Earliest in before the plan's first day does not open days before it."""
    early = check(earliest_in=day(-9))
    assert broken(early, 0) == ()
    assert broken(early, -1) == (
        "C1 comes in on Sun 3 Jan 2027, before the First day Mon 4 Jan 2027 of the plan.",
    )


def test_after_the_last_in_day() -> None:
    """Eight weeks end on day 55, although the check's own window goes on."""
    late = check(latest_in=day(90))
    assert broken(late, 55) == ()
    assert broken(late, 56) == (
        "C1 comes in on Mon 1 Mar 2027, after the last day Sun 28 Feb 2027 of the plan's weeks.",
    )


def test_an_option_is_never_past_its_latest_in() -> None:
    """The days of delay are for checks that must come in, not for options."""
    option = check(status=Status.OPTION)
    assert broken(option, 10) == ()
    assert broken(option, 11) == (
        "C1 comes in on Fri 15 Jan 2027, past its Latest in Thu 14 Jan 2027, as no option may.",
    )


def test_a_fixed_check_stands_outside_every_window() -> None:
    """It came in before the first day, before its Earliest in: it is there, so it stands."""
    assert broken(check(status=Status.FIXED, fixed_bay="B1", fixed_in=day(-7)), -7) == ()


def test_a_fixed_check_keeps_its_day() -> None:
    """Day 6 would suit its window, but it is fixed on day 7."""
    fixed = check(status=Status.FIXED, fixed_bay="B1", fixed_in=day(7))
    assert broken(fixed, 6) == (
        "C1 is fixed to come in on Mon 11 Jan 2027, but it comes in on Sun 10 Jan 2027.",
    )


def test_a_fixed_check_keeps_its_bay() -> None:
    """B1 would hold it as well, but it is fixed in B2."""
    fixed = check(status=Status.FIXED, fixed_bay="B2", fixed_in=day(7))
    two_bays = base(fixed, bays=(BAY, type(BAY)("B2", "North", 36, 40, 13, BAY.work)))
    assert audit(two_bays, plan(placed("C1", 7))).broken == (
        "C1 is fixed in bay B2, but it is in B1.",
    )
