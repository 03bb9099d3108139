"""Where a move on a certain day decides: by hand and by the second solution.

Day 0, the first day of the plan, is a Monday.
"""

from dataclasses import replace

import pytest

import capacity
from capacity.facts import Base, Check, Package, Stage
from tests.reference import stories
from tests.reference.every_rule_program import best_with_every_rule
from tests.reference.stories import day, fixed, proven, visit

MONDAY_TO_FRIDAY = frozenset(range(5))


def test_an_aircraft_comes_in_on_a_day_off_while_its_way_is_clear() -> None:
    """F comes into the outer bay on Sunday, day 6; the inner bay is out of reach on Monday.

    C fits the docking of the inner bay only and must start by Monday, day 7. So it comes in on
    Saturday or Sunday and stands there until the base works.
    """
    outer, inner = stories.bays(2)
    docked = replace(inner, docking=frozenset({"C dock"}), reached_through=outer.name)
    base = stories.base(
        (replace(outer, docking=frozenset({"F dock"})), docked),
        fixed("F", 3, 6, outer.name, type="F"),
        visit("C", 8, 5, 7, type="C"),
        working_weekdays=MONDAY_TO_FRIDAY,
    )
    twin = base.types[0]
    types = tuple(replace(twin, name=name, docking=f"{name} dock") for name in "FC")
    base = base.replace(types=types)
    assert best_with_every_rule(base) == (0, 0.0)
    assert proven(base).audit.goals.days_past_latest_in == 0


PAINTED = Package(
    "painted",
    (Stage("Open", "maintenance", 2), Stage("Paint", "paint", 2, after=("Open",))),
)


def painted(*checks: Check) -> Base:
    """One bay for maintenance and one for paint; nobody waits."""
    first, second = stories.bays(2)
    paint = replace(second, name="P", work=frozenset({"paint"}))
    base = stories.base((first, paint), *checks, longest_wait_days=0)
    return base.replace(packages=(*base.packages, PAINTED))


IN_TURN = [fixed(name, 1, first, "B1", package="painted") for name, first in (("A", -1), ("B", 3))]


@pytest.mark.parametrize(
    "checks",
    [
        pytest.param(IN_TURN, id="in turn"),
        pytest.param(IN_TURN[::-1], id="the other way round"),
    ],
)
def test_fixed_checks_that_follow_each_other_through_paint_stand(checks: list[Check]) -> None:
    """A is in B1 on days -1 and 0 and in P on 1 and 2; B in B1 on 3 and 4, in P on 5 and 6."""
    base = painted(*checks)
    assert best_with_every_rule(base) == (0, 0.0)
    visits = {(p.check, p.bay): (p.in_day, p.out_day) for p in proven(base).plan.placements}
    assert visits == {
        ("A", "B1"): (day(-1), day(1)),
        ("A", "P"): (day(1), day(3)),
        ("B", "B1"): (day(3), day(5)),
        ("B", "P"): (day(5), day(7)),
    }


def test_a_fixed_check_has_moved_on_before_the_first_day() -> None:
    """In on day -3 and whole: its two days in B1 end on day -1, so it stands in P until day 1."""
    base = painted(fixed("A", 1, -3, "B1", package="painted"))
    assert best_with_every_rule(base) == (0, 0.0)
    outcome = capacity.plan(base, capacity.Settings(seconds=10))
    assert isinstance(outcome, capacity.Planned)
    assert [(p.bay, p.in_day) for p in outcome.plan.placements] == [("B1", day(-3)), ("P", day(-1))]
