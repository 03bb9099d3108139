from collections.abc import Callable
from dataclasses import replace
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import capacity
from capacity.facts import Base, Closure
from capacity.plans.plan import Plan
from capacity.search_settings import SearchSettings
from capacity.slots.program.going_on import still_standing
from capacity.slots.program.plan_of import plan_of
from tests.reference import stories
from tests.reference.random_bases import small_base
from tests.reference.stories import bays, day, visit
from tests.slots.building import built, nothing, some_choice
from tests.slots.rich_bases import rich_base

Maker = Callable[[Random], Base]
HARDLY_ANY = capacity.Settings(seconds=0.1)
# One bay; first come, first served lets A and B in on the days they want, and C past its last.
CROWD = stories.base(
    bays(1),
    visit("A", 5, 0, 9, wanted_in=day(2)),
    visit("B", 5, 0, 9, wanted_in=day(7)),
    visit("C", 5, 0, 10),
)

SEARCH = SearchSettings()


def standing(plan: Plan, base: Base) -> dict[str, tuple[str, int]]:
    """Say where checks still stand: bay and in day."""
    made = built(base)
    chosen = still_standing(plan, made.program, made.slots, nothing(made.program), SEARCH)
    kept = plan_of(chosen, made.program, made.slots)
    return {p.check: (p.bay, (p.in_day - stories.FIRST_DAY).days) for p in kept.placements}


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=40)
@pytest.mark.parametrize("some_base", [small_base, rich_base])
def test_of_the_same_base_all_of_a_plan_stands(some_base: Maker, rng: Random) -> None:
    made = built(some_base(rng))
    if not made.program.checks:
        return
    chosen = some_choice(made.program, rng)
    plan = plan_of(chosen, made.program, made.slots)
    again = still_standing(plan, made.program, made.slots, nothing(made.program), SEARCH)
    assert made.program.cost(again) == pytest.approx(made.program.cost(chosen))
    assert plan_of(again, made.program, made.slots) == plan


def test_who_stands_in_a_closed_bay_is_out_and_the_others_stay() -> None:
    plan = stories.proven(CROWD).plan
    days = {p.check: (p.in_day - stories.FIRST_DAY).days for p in plan.placements}
    last = max(days, key=lambda name: days[name])
    closed = CROWD.replace(closures=(Closure("B1", day(days[last]), day(days[last])),))
    assert standing(plan, closed) == {c: ("B1", n) for c, n in days.items() if c != last}


def test_who_is_in_longer_than_before_is_out() -> None:
    plan = stories.proven(CROWD).plan
    longer = tuple(
        replace(check, package="6 days") if check.name == "B" else check for check in CROWD.checks
    )
    assert standing(plan, CROWD.replace(checks=longer)).keys() == {"A", "C"}


def test_checks_and_bays_that_are_gone_are_passed_over() -> None:
    two_bays = CROWD.replace(bays=bays(2))
    plan = stories.proven(two_bays).plan
    first, *others = two_bays.checks
    assert first.name not in standing(plan, two_bays.replace(checks=tuple(others)))
    in_the_first = {p.check for p in plan.placements if p.bay == "B1"}
    # Bays of a group are told apart by nothing but their names: B2 alone is gone.
    assert standing(plan, CROWD).keys() == in_the_first


def test_what_is_settled_is_in_beside_all_that_stood() -> None:
    made = built(CROWD)
    plan = stories.proven(CROWD).plan
    # B a day after A came in, so that A could not stand where it did; but B has other places.
    in_day = next(p.in_day for p in plan.placements if p.check == "A")
    number = made.slots.calendar.number(in_day) + 1
    columns = np.arange(*made.program.first_column[1:3])
    settled = nothing(made.program)
    settled[1] = columns[made.program.in_day[columns] == number][0]
    without = replace(plan, placements=tuple(p for p in plan.placements if p.check != "B"))
    chosen = still_standing(without, made.program, made.slots, settled, SEARCH)
    old = {p for p in plan.placements if p.check in "AC"}
    assert old <= {*plan_of(chosen, made.program, made.slots).placements}
    assert chosen[1] >= 0
    assert made.program.holds(chosen)


def test_a_search_begins_with_the_earlier_plan_and_never_ends_dearer() -> None:
    proven = stories.proven(CROWD)
    assert isinstance(proven, capacity.Planned)
    again = capacity.plan(CROWD, HARDLY_ANY, begin=proven.plan)
    assert isinstance(again, capacity.Planned)
    assert again.history[0].source == "earlier plan"
    assert again.audit.goals == proven.audit.goals
    assert again.history[0].days_past == proven.audit.goals.days_past_latest_in


def test_an_earlier_plan_that_is_worse_is_not_begun_with() -> None:
    empty = Plan((), tuple(check.name for check in CROWD.checks))
    again = capacity.plan(CROWD, HARDLY_ANY, begin=empty)
    assert isinstance(again, capacity.Planned)
    assert again.history[0].source == "first draft"


def test_gaps_of_an_earlier_plan_are_filled() -> None:
    proven = stories.proven(CROWD)
    assert isinstance(proven, capacity.Planned)
    fewer = replace(
        proven.plan, placements=tuple(p for p in proven.plan.placements if p.check != "C")
    )
    again = capacity.plan(CROWD, HARDLY_ANY, begin=fewer)
    assert isinstance(again, capacity.Planned)
    assert not again.plan.not_placed
    assert np.isfinite(again.audit.goals.money)
