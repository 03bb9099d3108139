"""A fixed check stands in bay and in day; it may run at any of its paces. By hand."""

from dataclasses import replace

import pytest

import capacity
from capacity.facts import Base, Package, Stage
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, proven, visit
from tests.slots.building import built

PACED = Package(
    "paced", (Stage("Work", "maintenance", 6, {"Mechanic": 88.0}, shortest_days=4, longest_days=9),)
)


def paced_base(*checks: capacity.facts.Check, count: int = 1) -> Base:
    """10 regular hours a day and no overtime: what is not there costs 500 an hour."""
    base = stories.base(bays(count), *checks)
    return base.replace(packages=(*base.packages, PACED))


def test_a_fixed_check_runs_as_slowly_as_is_cheapest() -> None:
    """In on Wednesday: 5 worked days of its week give 50 h.

    At 6 days 5/6 of 88 h fall in the first week: 73.3, 3.3 more than the week's 70; at 9 days
    5/9 do: 48.9. A booked check that may come in on that day only costs the same.
    """
    standing = fixed("A", 1, 2, "B1", package="paced")
    outcome = proven(paced_base(standing))
    booked = visit("A", 1, 2, 2, package="paced")
    assert outcome.audit.goals.money == proven(paced_base(booked)).audit.goals.money == 0.0
    at_normal = replace(PACED.stages[0], shortest_days=None, longest_days=None)
    base = paced_base(standing).replace(packages=(Package("paced", (at_normal,)),))
    assert proven(base).audit.goals.money == pytest.approx((88 * 5 / 6 - 70) * 500)


def test_two_fixed_checks_that_only_fit_at_the_shortest_pace() -> None:
    """A stands on days 0 to 3 at the shortest, B comes in on day 4."""
    checks = fixed("A", 1, 0, "B1", package="paced"), fixed("B", 1, 4, "B1", package="paced")
    outcome = proven(paced_base(*checks))
    first, _ = outcome.plan.placements
    assert (first.in_day, first.out_day) == (day(0), day(4))
    too_soon = replace(checks[1], fixed_in=day(3), earliest_in=day(3), latest_in=day(3))
    answer = capacity.plan(paced_base(checks[0], too_soon), capacity.Settings(seconds=5))
    assert isinstance(answer, capacity.Impossible)
    assert "paces" in answer.why[0]


def test_a_fixed_check_without_a_choice_is_settled() -> None:
    made = built(stories.base(bays(1), fixed("A", 3, 0, "B1")))
    assert made.program.checks == ()
    paced = built(paced_base(fixed("A", 1, 0, "B1", package="paced")))
    assert paced.program.checks == ("A",)
    assert paced.program.size == 6  # from four to nine days
