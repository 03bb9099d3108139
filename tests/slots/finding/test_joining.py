"""The best crossing of several plans, against all their crossings looked at one by one."""

from itertools import product

import numpy as np
import pytest

from capacity.search_settings import SearchSettings
from capacity.slots.finding import crossing
from capacity.slots.finding.crossing import Pool, breed
from capacity.slots.finding.joining import join
from capacity.slots.program.choice import Choice
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.program import Restricted
from tests.bench.invented import invented_quarter
from tests.bench.levelled import levelled
from tests.slots.building import Built, annealed, built, keeps_rows
from tests.slots.desk import Desk

CENT = 0.01
ENOUGH, SECONDS = 1000, 20.0


@pytest.fixture(scope="module", params=[False, True], ids=["even hours", "levelled hours"])
def lanes(request: pytest.FixtureRequest) -> Built:
    """Four bays, every second behind another, and eight checks in six weeks."""
    base = invented_quarter(2, bays=4, checks=8, weeks=6, lanes=True)
    return built(levelled(base) if request.param else base)


def plans_alike(made: Built, count: int) -> list[Choice]:
    """Return different plans with as few days past as the best of some, the best one first."""
    plans = {tuple(plan): plan for plan in (annealed(made, seed) for seed in range(30))}
    costs = {key: made.program.cost(plan) for key, plan in plans.items()}
    least = min(costs.values())[0]
    best = sorted((key for key in plans if costs[key][0] == least), key=lambda key: costs[key][1])
    assert len(best) >= count
    return [plans[key] for key in best[:count]]


def within(made: Built, plans: list[Choice]) -> Restricted:
    return made.program.within_days(made.program.days_past(plans[0]))


def crossings(made: Built, plans: list[Choice]) -> list[float]:
    """Return the money of every crossing that keeps the rows, with no more days past."""
    days = made.program.days_past(plans[0])
    choices = (np.array(each) for each in product(*map(set, zip(*plans, strict=True))))
    costs = [made.program.cost(each) for each in choices if made.program.holds(each)]
    return [money for past, money in costs if past <= days]


def test_the_best_of_all_crossings_is_found(lanes: Built) -> None:
    plans = plans_alike(lanes, 3)
    joined = join(within(lanes, plans), plans, ENOUGH, SECONDS)
    assert joined is not None
    assert keeps_rows(lanes.program, joined)
    assert ((joined == np.array(plans)).any(axis=0) | (joined < 0)).all()
    looked_at = crossings(lanes, plans)
    assert len(looked_at) > len(plans)
    assert lanes.program.cost(joined)[1] == pytest.approx(min(looked_at), abs=CENT)


def test_plans_are_left_out_from_the_one_on_that_makes_too_many_columns(lanes: Built) -> None:
    first, *others = plans_alike(lanes, 3)
    joined = join(within(lanes, [first]), [first, *others], int((first >= 0).sum()), SECONDS)
    assert joined is not None
    assert joined.tolist() == first.tolist()


def test_breeding_joins_its_plans_now_and_then_and_keeps_what_comes_of_it(
    lanes: Built, monkeypatch: pytest.MonkeyPatch
) -> None:
    plans = plans_alike(lanes, 3)
    best = join(within(lanes, plans), plans, ENOUGH, SECONDS)
    assert best is not None
    told = []

    def joined(restricted: Restricted, good: list[Choice], most: int, seconds: float) -> Choice:
        costs = [lanes.program.cost(plan) for plan in good]
        assert costs == sorted(costs)
        assert most == desk.task.settings.search.most_joined_columns
        assert seconds <= desk.task.settings.search.seconds_to_join
        told.append(len(good))
        return best

    monkeypatch.setattr(crossing, "join", joined)
    desk = Desk(lanes.program, 20.0, SearchSettings(annealings_between_joins=5))
    desk.tell_choice(plans[-1], "search")
    pool = Pool(lanes.program, most=4)
    while not told and desk.seconds_left > 0:
        breed(desk, LazyRows(lanes.program, SearchSettings()), 0.5, 1, pool)
    assert 1 < told[0] <= 4
    assert desk.best[1] <= lanes.program.cost(best)


def test_plans_are_joined_after_so_many_annealings_and_not_again_at_once(lanes: Built) -> None:
    good = plans_alike(lanes, 3)
    pool = Pool(lanes.program, most=2)
    pool.begin(lanes.program.days_past(good[0]))
    for plan in reversed(good):
        pool.take_in(plan, lanes.program.cost(plan))
    assert pool.unjoined == 3
    to_join = pool.to_join()
    assert [lanes.program.cost(plan)[1] for plan in to_join] == sorted(
        cost[1] for _, cost in pool.members
    )
    assert pool.unjoined == 0
