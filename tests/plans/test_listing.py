"""A plan of an earlier state of the base, and days that are waited, by hand."""

from datetime import date

import pytest

from capacity.facts import Status
from capacity.plans.listing import lies_within, listed_anew
from capacity.plans.worked_days import WorkedDays

from .stories import MON_TO_FRI, base, check, day, placed, plan


def test_nobody_is_forgotten_and_nobody_is_there_who_is_gone() -> None:
    """C9 is gone; of those without a slot two are booked or fixed, and one is an option."""
    of = base(
        check("C1"),
        check("C2"),
        check("C3", status=Status.OPTION),
        check("C4", status=Status.FIXED, fixed_bay="B1", fixed_in=day(20)),
    )
    anew = listed_anew(plan(placed("C1", 5), placed("C9", 20), refused=("C2",)), of)
    assert [placement.check for placement in anew.placements] == ["C1"]
    assert (anew.not_placed, anew.refused) == (("C2", "C4"), ("C3",))


@pytest.mark.parametrize(
    ("first", "last", "lies"),
    [(5, 15, True), (6, 15, False), (5, 14, False), (0, 60, True), (15, 5, False)],
)
def test_a_plan_lies_within_days(first: int, last: int, lies: bool) -> None:
    """In on day 5 and out on day 15, both ends counted."""
    assert lies_within(plan(placed("C1", 5)), base(), day(first), day(last)) is lies


def test_stages_and_bays_count_too() -> None:
    """The stage ends on day 16, a day past the out day; the second plan's bay is unknown."""
    longer = plan(placed("C1", 5, ("Work", 5, 16), out=15))
    assert not lies_within(longer, base(), day(0), day(15))
    assert lies_within(longer, base(), day(0), day(16))
    elsewhere = plan(placed("C1", 5), placed("C2", 20, bay="B9"))
    assert not lies_within(elsewhere, base(), day(0), day(60))


@pytest.mark.parametrize(
    ("ready", "first", "waited"),
    [
        # Days 5 and 6 are Saturday and Sunday: from Saturday on, Monday comes by itself.
        (day(5), day(7), 0),
        (day(6), day(7), 0),
        # Ready on Friday: waited until Saturday, so one day.
        (day(4), day(7), 1),
        (day(3), day(7), 2),
        (day(7), day(7), 0),
        (day(7), day(10), 3),
        (day(9), day(7), 0),
    ],
)
def test_the_fewest_days_waited(ready: date, first: date, waited: int) -> None:
    """Nobody waits over a weekend that no work would have used."""
    days = WorkedDays(base(working_weekdays=MON_TO_FRI))
    assert days.fewest_waited(ready, first) == waited
