"""A side that anneals apart begins with its own plan, also with one that others have bettered."""

import numpy as np
import pytest

from capacity.slots.finding.crossing import Pool
from capacity.slots.finding.ruin_recreate import RuinRecreate
from capacity.slots.finding.side import anneal, good_plan
from capacity.slots.program.lazy_rows import LazyRows
from tests.bench.invented import invented_quarter
from tests.reference import stories
from tests.reference.stories import bays, visit
from tests.slots.building import Built, built, keeps_rows, nothing
from tests.slots.desk import Desk


@pytest.fixture(scope="module")
def lanes() -> Built:
    """Four bays, every second behind another, twelve checks and six weeks."""
    return built(invented_quarter(1, bays=4, checks=12, weeks=6, lanes=True))


def test_it_goes_on_from_its_own_plan_and_returns_the_best_that_it_came_to(lanes: Built) -> None:
    program = lanes.program
    better = RuinRecreate(program, nothing(program), 1)
    better.rounds(3000, 5000.0, 1e6)
    # The time begins once the rounds are compiled, which may take longer than all of it.
    desk = Desk(program, 5.0)
    desk.tell_choice(better.best, "search")
    own = nothing(program)
    assert program.days_past(own) > desk.best[1][0]
    rows = LazyRows(program, desk.task.settings.search)
    found = anneal(desk, rows, 0.2, 3, start=own, is_apart=True)
    assert keeps_rows(program, found)
    assert program.cost(found) < program.cost(own)
    assert [one.tolist() for one in desk.shared] == [found.tolist()]


def test_columns_of_no_use_any_more_are_left_out_of_its_start() -> None:
    program = built(stories.base(bays(1), visit("A", 3, 0, 0))).program
    on_time, late = np.array([0]), np.array([program.size - 1])
    assert program.days_past(on_time) < program.days_past(late)
    desk = Desk(program, 5.0)
    desk.tell_choice(on_time, "search")
    rows = LazyRows(program, desk.task.settings.search)
    assert late[0] not in rows.within(program.days_past(on_time)).number
    found = anneal(desk, rows, 0.05, 3, start=late, is_apart=True)
    assert program.days_past(found) == program.days_past(on_time)


def test_a_good_plan_of_another_side_is_one_to_begin_with(lanes: Built) -> None:
    program, desk = lanes.program, Desk(lanes.program, 5.0)
    plans = []
    for seed in range(2):
        search = RuinRecreate(program, nothing(program), seed)
        search.rounds(3000, 5000.0, 1e6)
        plans.append(search.best)
    best, other = sorted(plans, key=program.cost)
    assert (best != other).any()
    desk.tell_choice(best, "search")
    desk.good = [(other, (program.cost(best)[0], program.cost(best)[1] + 100.0))]
    pool = Pool(program, 5)
    drawn = {good_plan(desk, pool, seed).tobytes() for seed in range(12)}
    assert drawn == {best.tobytes(), other.tobytes()}
    assert desk.good == []
