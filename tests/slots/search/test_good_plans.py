"""The pool of several sides: different plans, not too many, and always the best one."""

import numpy as np
import pytest

from capacity.slots.finding.ruin_recreate import RuinRecreate
from capacity.slots.program.choice import Choice
from capacity.slots.search.good_plans import SAME_KIND, GoodPlans
from tests.bench.invented import invented_quarter
from tests.reference import stories
from tests.reference.stories import bays, visit
from tests.slots.building import Built, built, keeps_rows, nothing

MOST = 3


@pytest.fixture(scope="module")
def made() -> Built:
    """Six bays, eight checks and eight weeks: plans without days past are soon found."""
    return built(invented_quarter(1, bays=6, checks=8, weeks=8))


@pytest.fixture(scope="module")
def annealed(made: Built) -> list[Choice]:
    """Plans of several annealings, from hardly any rounds to some hundreds."""
    found = []
    for seed in range(12):
        search = RuinRecreate(made.program, nothing(made.program), seed)
        search.rounds(3 + 20 * (seed % 4), 5000.0, 1e6)
        found.append(search.best)
    return found


def shares_apart(made: Built, plans: list[Choice]) -> list[float]:
    """Return for each two plans the share of checks with another bay or in day, one by one."""
    where = [
        [None if c < 0 else (int(made.program.place[c]), int(made.program.in_day[c])) for c in plan]
        for plan in plans
    ]
    return [
        float(np.mean([a != b for a, b in zip(one, other, strict=True)]))
        for number, one in enumerate(where)
        for other in where[:number]
    ]


def test_the_pool_is_bounded_has_the_best_and_only_plans_that_differ(
    made: Built, annealed: list[Choice]
) -> None:
    pool = GoodPlans(made.program, MOST)
    best = None
    for plan in annealed:
        kept = pool.take_in(plan)
        cost = made.program.cost(plan)
        if best is None or cost < best:
            best = cost
            assert kept is not None
            assert kept.cost == cost
        assert pool.plans[0][1] == best
        assert len(pool.plans) <= MOST
    chosen = [plan for plan, _ in pool.plans]
    assert len(chosen) == MOST
    assert all(keeps_rows(made.program, plan) for plan in chosen)
    assert min(shares_apart(made, chosen)) > SAME_KIND
    assert [cost for _, cost in pool.plans] == sorted(cost for _, cost in pool.plans)
    assert len({cost[0] for _, cost in pool.plans}) == 1


def test_what_is_handed_in_may_change_afterwards(made: Built, annealed: list[Choice]) -> None:
    pool, mine = GoodPlans(made.program), annealed[3].copy()
    pool.take_in(mine)
    mine[:] = -1
    assert pool.plans[0][0].tolist() == annealed[3].tolist()


def test_the_same_plan_is_kept_once_and_fewer_days_past_clear_the_pool(
    made: Built, annealed: list[Choice]
) -> None:
    pool = GoodPlans(made.program)
    assert pool.take_in(nothing(made.program)) is not None
    assert pool.take_in(nothing(made.program)) is None
    assert pool.take_in(annealed[3]) is not None
    assert made.program.days_past(annealed[3]) < made.program.days_past(nothing(made.program))
    assert len(pool.plans) == 1
    assert pool.take_in(nothing(made.program)) is None


def test_a_plan_that_breaks_rows_is_not_taken_in() -> None:
    program = built(stories.base(bays(1), visit("A", 3, 0, 0), visit("B", 3, 1, 1))).program
    both = np.array([0, program.first_column[1]])
    assert not keeps_rows(program, both)
    assert GoodPlans(program).take_in(both) is None
