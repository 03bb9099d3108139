"""Nobody changes to a like bay for nothing."""

from dataclasses import replace

import numpy as np

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.questions.asking.places import choice_of
from capacity.questions.asking.standing_plan import StandingPlan, standing_plan
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, day, visit


def standing() -> tuple[Base, Plan, StandingPlan]:
    """Three in a row in each of two like bays."""
    checks = [visit(f"{bay}{n}", 4, 4 * n, 4 * n) for bay in "PQ" for n in range(3)]
    base = stories.base(bays(2), *checks)
    plan = planned(base)
    assert plan is not None
    rows = {"P": "B1", "Q": "B2"}
    sorted_out = tuple(replace(p, bay=rows[p.check[0]]) for p in plan.placements)
    plan = replace(plan, placements=tuple(sorted(sorted_out, key=lambda p: (p.in_day, p.bay))))
    return base, plan, standing_plan(base, plan, may_move=None)


def swapped(plan: Plan, first_day: int) -> Plan:
    """Swap the bays of all who come in from a day on."""
    other = {"B1": "B2", "B2": "B1"}
    return replace(
        plan,
        placements=tuple(
            replace(p, bay=other[p.bay]) if p.in_day >= day(first_day) else p
            for p in plan.placements
        ),
    )


def test_swaps_between_like_bays_are_taken_back() -> None:
    _, plan, one = standing()
    for first_day in (0, 4, 8):
        other = swapped(plan, first_day)
        chosen = choice_of(other, one.slots, one.program)
        assert one.program.holds(chosen)
        assert not np.array_equal(chosen, one.chosen)
        assert np.array_equal(one.moved_least(chosen), one.chosen)


def test_a_standing_plan_is_the_given_one() -> None:
    base, plan, one = standing()
    assert set(one.plan.placements) == set(plan.placements)
    assert one.cost == (0, 0.0)
    held = standing_plan(base, plan)
    assert held.program.size == len(base.checks)
    assert not held.may_move.any()
    assert standing_plan(base, plan, may_move=["P0"]).may_move.sum() == 1
