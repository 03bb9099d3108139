import numpy as np
import pytest

from capacity.search_settings import SearchSettings
from capacity.slots.finding import side as finding_side
from capacity.slots.finding.crossing import (
    LEAST_TRIES,
    STALE,
    TRIES_BEFORE_LONGER,
    Pool,
    breed,
    crossed,
)
from capacity.slots.program.first_come import first_come
from capacity.slots.program.lazy_rows import LazyRows
from tests.bench.invented import invented_quarter
from tests.reference import stories
from tests.reference.stories import bays, visit
from tests.slots.building import Built, annealed, built, keeps_rows
from tests.slots.desk import Desk


@pytest.fixture(scope="module")
def lanes() -> Built:
    """Four bays, every second behind another, twelve checks and six weeks."""
    return built(invented_quarter(1, bays=4, checks=12, weeks=6, lanes=True))


def test_a_child_has_columns_of_its_parents_and_keeps_the_rows(lanes: Built) -> None:
    one, other = annealed(lanes, 1), annealed(lanes, 2)
    assert (one != other).any()
    rng = np.random.default_rng(1)
    children = [crossed(lanes.program, one, other, rng) for _ in range(40)]
    for child in children:
        assert ((child == one) | (child == other) | (child < 0)).all()
        assert keeps_rows(lanes.program, child)
    assert any(((child == one) != (one == other)).any() for child in children)
    assert any(((child >= 0) & (child != one)).any() for child in children)


def test_a_child_of_a_plan_and_itself_is_that_plan(lanes: Built) -> None:
    plan, rng = annealed(lanes, 1), np.random.default_rng(1)
    for _ in range(20):
        assert crossed(lanes.program, plan, plan, rng).tolist() == plan.tolist()


def test_what_finds_no_room_beside_one_parent_is_left_out() -> None:
    # One bay for both: whoever is kept leaves no day to the other.
    made = built(stories.base(bays(1), visit("A", 3, 0, 0), visit("B", 3, 1, 1)))
    a, b = np.array([0, -1]), np.array([-1, made.program.first_column[1]])
    rng = np.random.default_rng(1)
    children = {tuple(crossed(made.program, a, b, rng).tolist()) for _ in range(20)}
    assert children == {tuple(a.tolist()), tuple(b.tolist())}


def pool_of(program_of: Built, *members: tuple[list[int], float], most: int = 2) -> Pool:
    pool = Pool(program_of.program, most)
    pool.begin(0)
    for places, money in members:
        pool.take_in(np.array(places), (0, money))
    return pool


def money_in(pool: Pool) -> list[float]:
    return [cost[1] for _, cost in pool.members]


@pytest.fixture(scope="module")
def free() -> Built:
    """Four checks that may come in on any of four days each, in a bay of their own."""
    return built(stories.base(bays(4), *(visit(name, 2, 0, 3) for name in "ABCD")))


def on_days(made: Built, *days: int) -> list[int]:
    found = []
    for check, day in enumerate(days):
        columns = made.program.columns_of(check)
        found.append(int(columns[made.program.in_day[columns] == day][0]))
    return found


def test_a_better_plan_takes_the_place_of_the_one_it_is_most_like(free: Built) -> None:
    early, late = on_days(free, 0, 0, 0, 0), on_days(free, 3, 3, 3, 3)
    pool = pool_of(free, (early, 100.0), (late, 300.0))
    assert pool.take_in(np.array(on_days(free, 0, 0, 0, 1)), (0, 90.0))
    assert money_in(pool) == [90.0, 300.0]


def test_a_worse_plan_is_kept_if_it_is_of_another_kind_and_better_than_the_worst(
    free: Built,
) -> None:
    early, late = on_days(free, 0, 0, 0, 0), on_days(free, 3, 3, 3, 3)
    pool = pool_of(free, (early, 100.0), (late, 300.0))
    assert not pool.take_in(np.array(early), (0, 110.0))  # of the same kind
    assert pool.take_in(np.array(on_days(free, 0, 0, 1, 1)), (0, 110.0))
    assert money_in(pool) == [100.0, 110.0]
    assert not pool.take_in(np.array(on_days(free, 2, 2, 2, 2)), (0, 120.0))


def test_the_same_plan_is_kept_once_and_fewer_days_past_leave_no_other(free: Built) -> None:
    early = on_days(free, 0, 0, 0, 0)
    pool = pool_of(free, (early, 100.0), (early, 100.0))
    assert money_in(pool) == [100.0]
    assert not pool.take_in(np.array(early), (1, 50.0))
    pool.begin(0)
    assert money_in(pool) == [100.0]
    pool.begin(-1)
    assert not pool.members


def test_annealings_from_nothing_grow_longer_when_all_were_in_vain_and_then_end(
    free: Built,
) -> None:
    pool = pool_of(free)
    for tries in range(LEAST_TRIES):
        assert pool.fresh_times == (1 if tries < TRIES_BEFORE_LONGER else 2)
        assert not pool.is_in_vain
        pool.tried(is_hit=False)
    assert pool.is_in_vain
    pool.begin(-1)  # fewer days past are harder still
    assert pool.is_in_vain
    pool.begin(7)
    assert not pool.is_in_vain
    for tries in range(10 * LEAST_TRIES):
        pool.tried(is_hit=tries % 4 == 3)
        assert not pool.is_in_vain
    assert pool.fresh_times == 1


def test_where_it_is_in_vain_breeding_leaves_its_time_to_others(lanes: Built) -> None:
    desk = Desk(lanes.program, 60.0)
    desk.tell_choice(annealed(lanes, 1), "search")
    pool = Pool(lanes.program, 5)
    pool.begin(desk.best[1][0])
    for _ in range(LEAST_TRIES):
        pool.tried(is_hit=False)
    breed(desk, LazyRows(lanes.program, SearchSettings()), 0.2, 1, pool)
    assert pool.tries == LEAST_TRIES
    assert not pool.members


def test_plans_are_bred_apart_and_put_together_again(free: Built) -> None:
    rng = np.random.default_rng(1)
    early, late = on_days(free, 0, 0, 0, 0), on_days(free, 3, 3, 3, 3)
    pool = pool_of(free, (early, 100.0), (late, 300.0))
    assert not all(pool.wants_fresh(rng) for _ in range(40))
    turn_stale(pool, early, 100.0)
    assert pool.is_apart
    assert not pool.members
    assert all(pool.wants_fresh(rng) for _ in range(40))  # until there are as many as before
    other = on_days(free, 1, 1, 2, 2)
    pool.take_in(np.array(other), (0, 200.0))
    pool.turn_if_stale()
    assert pool.is_apart
    turn_stale(pool, other, 200.0)
    assert not pool.is_apart
    assert money_in(pool) == [100.0, 200.0]


def turn_stale(pool: Pool, places: list[int], money: float) -> None:
    """Let the pool be offered a plan that it has, until it has had enough of that."""
    for _ in range(STALE * pool.most):
        pool.turn_if_stale()
        assert not pool.take_in(np.array(places), (0, money))
    pool.turn_if_stale()


def test_breeding_betters_a_plan_made_by_feel_and_keeps_what_it_is_told(lanes: Built) -> None:
    desk = Desk(lanes.program, 60.0)
    desk.tell_choice(first_come(lanes.program, lanes.slots), "first draft")
    before = desk.best[1]
    pool = Pool(lanes.program, 5)
    breed(desk, LazyRows(lanes.program, SearchSettings()), 0.5, 1, pool)
    chosen, cost = desk.best
    assert cost < before
    assert keeps_rows(lanes.program, chosen)
    assert 0 < len(pool.members) <= 5
    assert all(own[0] == cost[0] for _, own in pool.members)
    assert min(own for _, own in pool.members) == cost


def test_plans_that_are_annealed_by_windows_are_not_bred(
    lanes: Built, monkeypatch: pytest.MonkeyPatch
) -> None:
    seconds: list[float] = []
    monkeypatch.setattr(finding_side, "breed", lambda *said: seconds.append(said[2]))
    for many, is_bred in ((11, False), (12, True)):
        seconds.clear()
        few = SearchSettings(most_checks_without_windows=many, first_annealing_seconds=0.1)
        finding_side.find_plans(Desk(lanes.program, 0.6, few))
        assert seconds[0] == 0.0  # the first annealing comes to a good plan soon
        assert any(seconds) == is_bred
