"""The smallest conflict told is one of those that trying every subset of the rules finds."""

from dataclasses import replace
from datetime import timedelta
from functools import cache
from random import Random

import pytest

from capacity.facts import (
    Base,
    Check,
    Closure,
    Equipment,
    EquipmentOutage,
    Package,
    Shop,
    ShopLoop,
    Stage,
    Status,
)
from capacity.questions.conflicts.finding import find_conflicts
from capacity.questions.conflicts.places import all_places
from capacity.questions.conflicts.search import smallest, thinned
from capacity.questions.conflicts.solving import clock_of
from capacity.questions.conflicts.values import Conflicts
from capacity.slots.rules.alone_stages import ALONE
from capacity.slots.rules.bay_days import ONE_AT_A_TIME
from capacity.slots.rules.days_off import DAYS_OFF
from capacity.slots.rules.families import kinds, rules_of
from capacity.slots.rules.held import HELD
from capacity.slots.rules.longest_wait import WAIT
from capacity.slots.rules.moves_on_days_off import DAY_OFF_IN, DAY_OFF_OUT
from capacity.slots.rules.ready_dates import READY
from capacity.slots.rules.rule import Rule, RuleKind
from capacity.slots.rules.shop_windows import SHOP
from capacity.slots.rules.windows import FIXED_PLACE, WINDOW
from tests.questions.clashes import feasible_rule_sets
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, visit

SEEDS = 50


def random_base(rng: Random) -> Base:
    """Three or four visits in two bays with one or two of the rules that bays can have."""
    outer, inner = bays(2, changeover_days=rng.randint(0, 2))
    if rng.random() < 0.3:
        inner = replace(inner, reached_through="B1")
    if rng.random() < 0.3:
        outer = replace(outer, shares_floor_with=frozenset({"B2"}))
    if rng.random() < 0.3:
        inner = replace(inner, max_span_m=20.0)
    checks = tuple(random_check(rng, f"C{number}") for number in range(rng.randint(3, 4)))
    held = tuple(
        Package(f"{days} days", (Stage("Work", "maintenance", days, equipment=("Jack set",)),))
        for days in range(1, 7)
    )
    base = stories.base((outer, inner), *checks)
    jacks = rng.random() < 0.4
    base = base.replace(
        packages=held if jacks else base.packages,
        equipment=(Equipment("Jack set", rng.randint(1, 2)),) if jacks else (),
        equipment_outages=(
            (EquipmentOutage("Jack set", day(rng.randint(0, 4)), day(rng.randint(4, 8)), 1),)
            if jacks
            else ()
        ),
        closures=tuple(
            Closure(rng.choice(("B1", "B2")), day(first), day(first + rng.randint(0, 4)))
            for first in (rng.randint(0, 6) for _ in range(rng.randint(0, 1)))
        ),
    )
    return cut_by_the_period(base) if rng.random() < 0.3 else base


def cut_by_the_period(base: Base) -> Base:
    """Plan one week only, which ends within most windows."""
    checks = tuple(
        check
        if check.status is Status.FIXED
        else replace(check, latest_in=check.latest_in + timedelta(days=4))
        for check in base.checks
    )
    return base.replace(weeks=1, checks=checks)


def random_check(rng: Random, name: str) -> Check:
    first, days = rng.randint(0, 4), rng.randint(2, 6)
    if rng.random() < 0.25:
        return fixed(name, days, first, "B1", latest_in=day(first - rng.choice((0, 0, 0, 2))))
    return visit(name, days, first, first + rng.randint(0, 2))


@cache
def conflicts_of_seed(seed: int) -> Conflicts:
    return find_conflicts(all_places(random_base(Random(seed))), clock_of(60), fixed_only=False)


@pytest.mark.parametrize("seed", range(SEEDS))
def test_a_conflict_is_one_of_the_minimal_ones(seed: int) -> None:
    base = random_base(Random(seed))
    asked = [check.name for check in base.checks]
    rules = rules_of(base, asked, on_time=True)
    known = feasible_rule_sets(base, rules)
    found = conflicts_of_seed(seed)
    assert found.possible is known.can_hold(frozenset(rules))
    minimal = known.minimal_conflicts()
    assert bool(found.conflicts) is bool(minimal)
    in_turn = frozenset(rules)
    for conflict in found.conflicts:
        told = frozenset(conflict.rules)
        assert conflict.is_smallest
        assert told in minimal
        assert not known.can_hold(told)
        assert all(known.can_hold(told - {rule}) for rule in told)
        in_turn -= {rule for rule in told if rule.kind in (WINDOW, FIXED_PLACE)}
    assert found.all_told is known.can_hold(in_turn)


def test_the_random_bases_use_every_rule_that_they_can() -> None:
    """Else the comparison above would say nothing of some of them."""
    told: set[RuleKind] = set()
    # Others have examples of their own (test_every_rule.py).
    elsewhere = {SHOP, DAYS_OFF, ALONE, WAIT, HELD, READY, DAY_OFF_IN, DAY_OFF_OUT}
    for seed in range(SEEDS):
        for conflict in conflicts_of_seed(seed).conflicts:
            told |= {rule.kind for rule in conflict.rules}
    assert told == kinds() - elsewhere


@pytest.mark.parametrize("seed", range(20))
def test_the_fixed_checks_are_asked_by_themselves(seed: int) -> None:
    rng = Random(seed)
    base = random_base(rng)
    checks = tuple(
        replace(c, status=Status.FIXED, fixed_bay=rng.choice(("B1", "B2")), fixed_in=c.latest_in)
        if rng.random() < 0.8 and c.status is not Status.FIXED
        else c
        for c in base.checks
    )
    bays_ = tuple(replace(bay, max_span_m=36.0) for bay in base.bays)
    base = base.replace(checks=checks, bays=bays_)
    only = [check for check in checks if check.status is Status.FIXED]
    rules = rules_of(base, [check.name for check in only], on_time=False)
    known = feasible_rule_sets(base.replace(checks=tuple(only)), rules)
    found = find_conflicts(all_places(base), clock_of(60), fixed_only=True)
    assert found.possible is known.can_hold(frozenset(rules))
    assert {frozenset(conflict.rules) for conflict in found.conflicts} <= known.minimal_conflicts()


def test_a_fixed_check_that_came_before_the_first_day_is_in_the_way() -> None:
    base = stories.base(
        bays(1), fixed("F", 10, -5, "B1"), visit("A", 5, 3, 4), fixed("G", 3, 20, "B1")
    )
    (conflict,) = find_conflicts(all_places(base), clock_of(60), fixed_only=False).conflicts
    assert set(conflict.rules) == {
        Rule(FIXED_PLACE, "F"),
        Rule(WINDOW, "A"),
        Rule(ONE_AT_A_TIME, "B1"),
    }


def test_conflicts_that_share_no_check_are_told_one_by_one() -> None:
    base = stories.base(
        bays(1),
        *(visit(name, 5, 0, 2) for name in ("A", "B")),
        *(visit(name, 5, 20, 22) for name in ("C", "D")),
        visit("E", 5, 40, 42),
    )
    found = find_conflicts(all_places(base), clock_of(60), fixed_only=False)
    told = [{rule.of for rule in conflict.rules} for conflict in found.conflicts]
    assert sorted(map(sorted, told)) == [["A", "B", "B1"], ["B1", "C", "D"]]
    assert found.all_told


def test_a_shop_is_told_by_name() -> None:
    base = stories.base(bays(2), visit("A", 9, 0, 0), visit("B", 9, 0, 0))
    base = with_wheels(base, items_per_day=1.0)
    (conflict,) = find_conflicts(all_places(base), clock_of(60), fixed_only=False).conflicts
    assert {rule.kind for rule in conflict.rules} == {WINDOW, SHOP}
    assert find_conflicts(
        all_places(with_wheels(base, 2.0)), clock_of(60), fixed_only=False
    ).possible


def with_wheels(base: Base, items_per_day: float) -> Base:
    """Each visit sends three wheels away after a day and wants them back, without waiting."""
    stages = (
        Stage("Off", "maintenance", 1),
        Stage("Other", "maintenance", 3, after=("Off",)),
        Stage("On", "maintenance", 1, after=("Other",)),
    )
    return base.replace(
        packages=(Package("9 days", stages),),
        shops=(Shop("Wheels", items_per_day),),
        shop_loops=(ShopLoop("9 days", "Wheels", 3, "Off", "On"),),
        longest_wait_days=0,
    )


def test_what_is_not_proven_is_never_told_as_a_fact() -> None:
    """With no time at all nothing is proven, and nothing is said."""
    base = stories.base(bays(1), visit("A", 5, 0, 2), visit("B", 5, 0, 2))
    found = find_conflicts(all_places(base), clock_of(0.0), fixed_only=False)
    assert (found.possible, found.conflicts) == (None, ())


def test_doubt_leaves_a_conflict_proven_and_says_that_it_may_be_too_large() -> None:
    one, two, three = (Rule(WINDOW, name) for name in "ABC")

    def holds(rules: frozenset[Rule]) -> bool | None:
        if rules == {one, two, three}:
            return False
        return None if {one, two} <= rules else True

    found = smallest(holds, frozenset(), (one, two, three))
    assert set(found) == {one, two, three}
    assert thinned(holds, found) == (found, False)


def test_a_set_that_is_too_large_is_thinned() -> None:
    rules = tuple(Rule(WINDOW, name) for name in "ABCDE")
    conflict = frozenset(rules[1:3])
    assert thinned(lambda some: not conflict <= some, rules) == (rules[1:3], True)
    assert smallest(lambda some: not conflict <= some, frozenset(), rules) == rules[1:3]


def test_a_window_of_no_day_is_a_conflict_by_itself() -> None:
    base = stories.base(bays(1), visit("A", 5, 9, 9, latest_in=day(9) - timedelta(days=20)))
    (conflict,) = find_conflicts(all_places(base), clock_of(60), fixed_only=False).conflicts
    assert conflict.rules == (Rule(WINDOW, "A"),)
