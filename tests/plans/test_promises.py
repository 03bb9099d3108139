"""Days agreed that move with the in day, and the cost of days away from Wanted in, by hand.

How such promises are priced is common practice, no source.
"""

from dataclasses import replace

import numpy as np
import pytest

from capacity.facts import Base
from capacity.labour.calendar import calendar_of
from capacity.slots.candidates import find_slots
from tests.bases import day
from tests.plans.stories import audited, base, check, placed


def priced(of: Base, in_day: int) -> tuple[float, float]:
    """Return the money of the check in on a day, as audited and as the search has it."""
    (candidates,) = find_slots(of, calendar_of(of), every_day=True).candidates
    courses = candidates.courses
    (course,) = np.flatnonzero(courses.stays.in_day == in_day)
    return audited(of, placed("C1", in_day)).goals.money, float(courses.money[course])


@pytest.mark.parametrize(("agreed_days", "late"), [(12, 0), (10, 0), (9, 1), (4, 6)])
@pytest.mark.parametrize("in_day", [5, 8, 10])
def test_a_promise_of_days_moves_with_the_in_day(agreed_days: int, late: int, in_day: int) -> None:
    """Ten days of work, whenever it comes in."""
    promised = check(agreed_days=agreed_days, late_cost_per_day=100.0)
    assert priced(base(promised), in_day) == (100.0 * late, 100.0 * late)
    account = audited(base(promised), placed("C1", in_day)).accounts[0]
    assert (account.late_days, account.agreed_out) == (late, day(in_day + agreed_days))


@pytest.mark.parametrize(("in_day", "days"), [(5, 2), (6, 1), (7, 0), (8, 1), (10, 3)])
def test_days_away_from_wanted_in_cost_before_and_after(in_day: int, days: int) -> None:
    wanted = check(wanted_in=day(7), wanted_cost_per_day=40.0)
    assert priced(base(wanted), in_day) == (40.0 * days, 40.0 * days)
    account = audited(base(wanted), placed("C1", in_day)).accounts[0]
    assert (account.wanted_days, account.wanted_money) == (days, 40.0 * days)
    free = replace(wanted, wanted_cost_per_day=0.0)
    assert priced(base(free), in_day) == (0.0, 0.0)


def test_a_day_off_that_is_wanted_is_among_the_in_days() -> None:
    """Saturday, day 5, is wanted; on Monday it would be two days away from it."""
    wanted = check(wanted_in=day(5), wanted_cost_per_day=40.0)
    of = base(wanted, working_weekdays=frozenset(range(5)))
    (candidates,) = find_slots(of, calendar_of(of)).candidates
    assert 5 in candidates.courses.stays.in_day
    of = of.replace(checks=(replace(wanted, wanted_cost_per_day=0.0),))
    (candidates,) = find_slots(of, calendar_of(of)).candidates
    assert 5 not in candidates.courses.stays.in_day
