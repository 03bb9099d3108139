"""The optimum from a second solution with all that is said of days and agreements.

Source: ``scipy.optimize.milp`` over all courses of all checks in plain dates, both in this
folder, put together from the facts and the contract alone.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import cache
from random import Random

import pytest

import capacity
from capacity.facts import Base, Status
from capacity.labour.calendar import calendar_of
from capacity.slots.candidates import find_slots, ways
from tests.quick_and_long import some_of
from tests.reference.agreed_bases import (
    with_agreements,
    with_guarantees,
    with_licences,
    with_own_days,
    with_promises,
    with_spans_of_crews,
)
from tests.reference.courses import Course
from tests.reference.every_rule_bases import every_rule_base
from tests.reference.every_rule_program import best_with_every_rule
from tests.reference.stories import proven
from tests.reference.test_every_way import every_way, is_as_good, ours


def each_check(base: Base, **changes: object) -> Base:
    return base.replace(checks=tuple(replace(check, **changes) for check in base.checks))


WITHOUT: dict[str, Callable[[Base], Base]] = {
    "own days": lambda base: base.replace(calendar_days=()),
    "decide by": lambda base: each_check(base, decide_by=None),
    "held in": lambda base: each_check(base, held_in=None),
    "held bay": lambda base: each_check(base, held_bay=None),
    "coming in on worked days": lambda base: base.replace(comes_in_on_days_off=True),
    "leaving on worked days": lambda base: base.replace(leaves_on_days_off=True),
    "agreed days": lambda base: each_check(base, agreed_days=None),
    "cost from Wanted in": lambda base: each_check(base, wanted_cost_per_day=0.0),
    "licences": lambda base: base.replace(licences=()),
    "guarantees": lambda base: base.replace(
        crews=tuple(replace(crew, guaranteed_hours=0.0) for crew in base.crews)
    ),
    "spans of crews": lambda base: base.replace(
        crews=tuple(replace(crew, first=None, last=None) for crew in base.crews)
    ),
}
SEEDS = (0, 4, 8, 9, 12, 31, 43)
MORE_SEEDS = (10, 65)  # in which leaving on worked days and Decide by decide


@pytest.fixture(autouse=True)
def all_ways(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have all ways tried also of a check with hundreds, as the second solution does."""
    monkeypatch.setattr(ways, "MOST_WAYS", 1000)


def agreed_base(seed: int) -> Base:
    """Return a base with every rule, and all that this module is about."""
    base = with_own_days(every_rule_base(Random(seed)), Random(seed))
    base = with_spans_of_crews(with_guarantees(base, Random(seed)), Random(seed))
    base = with_licences(with_promises(base, Random(seed)), Random(seed))
    return with_agreements(base, Random(seed))


@cache
def best_of_seed(seed: int) -> tuple[int, float] | None:
    """Return what the second solution finds, all ways of checks with hundreds among it."""
    return best_with_every_rule(agreed_base(seed))


@pytest.mark.parametrize("seed", some_of(SEEDS, quick=4))
def test_a_second_solution_finds_the_same_optimum(seed: int) -> None:
    base, best = agreed_base(seed), best_of_seed(seed)
    if best is None:
        assert isinstance(capacity.plan(base), capacity.Impossible)
        return
    planned = proven(base)
    assert not planned.audit.broken
    assert planned.audit.goals.days_past_latest_in == best[0]
    assert planned.audit.goals.money == pytest.approx(best[1], rel=2e-6, abs=0.01)


@pytest.mark.parametrize("rule", WITHOUT)
def test_each_rule_decides_somewhere(rule: str) -> None:
    """The test before could not fail for a rule that changes no optimum."""
    pairs = (
        (best_with_every_rule(WITHOUT[rule](agreed_base(seed))), best_of_seed(seed))
        for seed in (*SEEDS, *MORE_SEEDS)
    )
    assert any(without is None or without != pytest.approx(best) for without, best in pairs if best)


@pytest.mark.parametrize("seed", some_of([0, 4, 9, 12, 31, 43], quick=3))
def test_every_way_is_a_candidate_or_another_is_as_good(seed: int) -> None:
    """As in ``test_every_way``, with days off, promises and agreements of all kinds."""
    base = agreed_base(seed)
    base = base.replace(checks=tuple(c for c in base.checks if c.status is not Status.FIXED))
    slots = find_slots(base, calendar_of(base))
    for candidates in slots.candidates:
        check = candidates.courses.check
        mine, every = ours(candidates, slots), every_way(base, check, slots)
        assert mine <= every.keys()
        by_out: dict[date, list[Course]] = {}
        for key in mine:
            by_out.setdefault(every[key].visits[-1].until, []).append(every[key])
        for key in every.keys() - mine:
            left_out = every[key]
            rivals = by_out.get(left_out.visits[-1].until, [])
            assert any(is_as_good(course, left_out, base) for course in rivals), left_out
