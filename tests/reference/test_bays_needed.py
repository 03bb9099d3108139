"""Bays needed are the most visits that overlap on any day.

Source: interval partitioning, Kleinberg and Tardos, Algorithm Design, section 4.1 (the
theorem from memory); the numbers of this example counted by hand.
"""

import pytest

from capacity.facts import Check
from tests.reference import stories
from tests.reference.stories import proven, visit

VISITS = {
    "A": (1, 21),
    "B": (5, 19),
    "C": (15, 43),
    "D": (20, 34),
    "E": (22, 36),
    "F": (30, 58),
    "G": (36, 50),
    "H": (43, 57),
}


def held(name: str, first: int, until: int, **changes: object) -> Check:
    """Book a visit that must come in on one day."""
    return visit(name, until - first, first, first, **changes)


EIGHT_VISITS = tuple(held(name, *days) for name, days in VISITS.items())


def test_the_most_visits_on_one_day_are_four() -> None:
    on_a_day = [sum(first <= day < until for first, until in VISITS.values()) for day in range(60)]
    assert max(on_a_day) == 4


def test_four_bays_hold_the_eight_visits() -> None:
    planned = proven(stories.base(stories.bays(4), *EIGHT_VISITS))
    assert planned.audit.goals.days_past_latest_in == 0
    assert len({placement.bay for placement in planned.plan.placements}) == 4


def test_three_bays_do_not_and_that_is_proven() -> None:
    planned = proven(stories.base(stories.bays(3), *EIGHT_VISITS))
    assert planned.days_bound > 0


def test_four_bays_are_occupied_60_83_percent_of_sixty_days() -> None:
    placements = proven(stories.base(stories.bays(4), *EIGHT_VISITS)).plan.placements
    bay_days = sum((placement.out_day - placement.in_day).days for placement in placements)
    assert bay_days == 146
    assert bay_days / (4 * 60) == pytest.approx(0.6083, abs=5e-5)


def test_one_bay_turns_over_on_the_out_day() -> None:
    # Half-open days: A leaves on day 21 and X comes in on it.
    base = stories.base(stories.bays(1), held("A", 1, 21), held("X", 21, 40))
    assert proven(base).audit.goals.days_past_latest_in == 0


@pytest.mark.parametrize(("bays", "past"), [(1, 1), (2, 0)])
def test_with_a_day_of_changeover_the_same_two_visits_need_two_bays(bays: int, past: int) -> None:
    # One bay can still take X a day later.
    both = held("A", 1, 21), held("X", 21, 40)
    base = stories.base(stories.bays(bays, changeover_days=1), *both)
    assert proven(base).audit.goals.days_past_latest_in == past
