import numpy as np
import pytest

from capacity.search_settings import SearchSettings
from capacity.slots.finding import side as finding_side
from capacity.slots.finding.windows import anneal_window, window
from capacity.slots.program.first_come import first_come
from capacity.slots.program.lazy_rows import LazyRows
from tests.bench.invented import invented_quarter
from tests.reference import stories
from tests.reference.stories import bays, visit
from tests.slots.building import Built, built, keeps_rows
from tests.slots.desk import Desk


@pytest.fixture(scope="module")
def quarter() -> Built:
    """Four bays, twelve checks and six weeks, some of them overloaded."""
    return built(invented_quarter(1, bays=4, checks=12, weeks=6))


def desk_with_plan(made: Built, seconds: float, search: SearchSettings) -> Desk:
    desk = Desk(made.program, seconds, search)
    desk.tell_choice(first_come(made.program, made.slots), "first draft")
    return desk


def test_a_window_holds_checks_that_come_in_one_after_the_other(quarter: Built) -> None:
    program = quarter.program
    chosen = first_come(program, quarter.slots)
    for seed in range(20):
        inside = window(program, chosen, 5, np.random.default_rng(seed))
        assert inside.tolist() == sorted(set(inside.tolist()))
        assert len(inside) == 5
        columns = chosen[inside]
        days = program.in_day[columns[columns >= 0]]
        columns = np.delete(chosen, inside)
        others = program.in_day[columns[columns >= 0]]
        assert not ((others > days.min()) & (others < days.max())).any()


def test_every_check_is_in_some_window(quarter: Built) -> None:
    program = quarter.program
    chosen = first_come(program, quarter.slots)
    drawn = [window(program, chosen, 3, np.random.default_rng(seed)) for seed in range(60)]
    assert set(np.concatenate(drawn).tolist()) == set(range(len(program.checks)))


def test_a_check_that_is_out_counts_with_the_mean_of_its_days() -> None:
    # A can come in on days 0 to 2, B on 8 to 10, C on 18 to 20; C is left out.
    checks = visit("A", 3, 0, 2), visit("B", 3, 8, 10), visit("C", 3, 18, 20)
    program = built(stories.base(bays(3), *checks, longest_delay_days=0)).program
    chosen = np.array([0, program.first_column[1], -1])
    pairs = {
        tuple(window(program, chosen, 2, np.random.default_rng(seed)).tolist())
        for seed in range(40)
    }
    assert pairs == {(0, 1), (1, 2)}


def test_a_window_of_more_than_all_checks_holds_them_all(quarter: Built) -> None:
    chosen = first_come(quarter.program, quarter.slots)
    inside = window(quarter.program, chosen, 99, np.random.default_rng(0))
    assert inside.tolist() == list(range(len(quarter.program.checks)))


def test_only_checks_of_the_window_move(quarter: Built) -> None:
    desk = desk_with_plan(quarter, 60.0, SearchSettings(window_checks=4))
    for seed in range(6):
        before, cost = desk.best
        may = window(quarter.program, before, 4, np.random.default_rng(seed))
        anneal_window(desk, LazyRows(quarter.program, SearchSettings()), 0.1, seed, 2.0)
        after, better = desk.best
        assert set(np.flatnonzero(after != before)) <= set(may.tolist())
        assert better <= cost
        assert keeps_rows(quarter.program, after)


def test_window_by_window_the_plan_gets_better(quarter: Built) -> None:
    desk = desk_with_plan(quarter, 60.0, SearchSettings(window_checks=6))
    before = desk.best[1]
    for seed in range(5):
        anneal_window(desk, LazyRows(quarter.program, SearchSettings()), 0.1, seed, 2.0)
    assert desk.best[1] < before


@pytest.mark.parametrize(("many", "has_windows"), [(11, True), (12, False)])
def test_only_plans_of_many_checks_are_annealed_by_windows(
    quarter: Built, monkeypatch: pytest.MonkeyPatch, many: int, has_windows: bool
) -> None:
    seen: list[float] = []
    few = SearchSettings(most_checks_without_windows=many, first_annealing_seconds=0.1)
    desk = desk_with_plan(quarter, 1.5, few)

    def watched(*_: object) -> None:
        seen.append(desk.seconds_left)
        desk.until -= 0.2

    monkeypatch.setattr(finding_side, "anneal_window", watched)
    finding_side.find_plans(desk)
    assert bool(seen) == has_windows
    assert all(left < 0.9 * 1.5 for left in seen)
