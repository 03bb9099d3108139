from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from capacity.facts import Package, Skill, Stage, Status
from capacity.slots.finding.round_arrays import arrays_of
from capacity.slots.finding.ruin_recreate import MOST_OUT, RuinRecreate, day_money
from capacity.slots.program.first_come import first_come
from tests.bench.invented import invented_quarter
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, visit
from tests.slots.building import Built, built, keeps_rows, nothing

WARM, DAY = 5000.0, 1e6


@pytest.fixture(scope="module")
def quarter() -> Built:
    """Four bays, twelve checks and six weeks, some of them overloaded."""
    return built(invented_quarter(1, bays=4, checks=12, weeks=6))


def begun(made: Built, seed: int = 1) -> RuinRecreate:
    return RuinRecreate(made.program, first_come(made.program, made.slots), seed)


def test_the_costs_keep_in_step_with_the_cost_through_many_rounds(quarter: Built) -> None:
    search = begun(quarter)
    for temperature in (WARM, WARM / 10, 1.0):
        search.rounds(20_000, temperature, DAY)
        costs = search.costs
        now = search.program.cost(search._state.chosen)
        assert (costs.days, costs.money) == pytest.approx(now, abs=0.01, rel=0)
        best = search.program.cost(search.best)
        assert (costs.best_days, costs.best_money) == pytest.approx(best, abs=0.01, rel=0)


def test_every_choice_on_the_way_keeps_the_rows(quarter: Built) -> None:
    search = begun(quarter)
    for _ in range(200):
        search.rounds(5, WARM, DAY)
        assert keeps_rows(quarter.program, search._state.chosen)
        assert keeps_rows(quarter.program, search.best)


def test_it_betters_the_first_come_plan_by_far(quarter: Built) -> None:
    search = begun(quarter)
    before = quarter.program.cost(search.best)
    assert search.rounds(20_000, WARM / 10, DAY)
    assert quarter.program.cost(search.best) < before


def test_a_round_that_finds_nothing_better_says_so() -> None:
    made = built(stories.base(bays(1), visit("A", 3, 0, 0)))
    search = RuinRecreate(made.program, np.array([0]), seed=1)
    assert not search.rounds(100, 1.0, DAY)
    assert search.best.tolist() == [0]


def test_the_same_seed_gives_the_same_choice(quarter: Built) -> None:
    def after_rounds(seed: int) -> tuple[float, list[int]]:
        search = begun(quarter, seed)
        search.rounds(300, WARM, DAY)
        return search.costs.money, search.best.tolist()

    assert after_rounds(seed=7) == after_rounds(seed=7)
    assert after_rounds(seed=7) != after_rounds(seed=8)


def test_a_day_past_is_worth_more_than_any_money(quarter: Built) -> None:
    program = quarter.program
    rng = np.random.default_rng(1)
    money = []
    for _ in range(200):
        chosen = rng.integers(program.first_column[:-1], program.first_column[1:])
        money.append(program.cost(chosen)[1])
    assert max(money) - min(money) < day_money(program)


def test_it_takes_money_to_save_a_day_past() -> None:
    # In time costs a million of late money, a day past costs none.
    dear = visit("A", 3, 0, 0, agreed_out=day(2), late_cost_per_day=1e6)
    made = built(stories.base(bays(1), dear, longest_delay_days=3))
    search = RuinRecreate(made.program, nothing(made.program), seed=1)
    search.rounds(200, 1.0, day_money(made.program))
    assert made.program.days_past(search.best) == 0


def test_a_check_put_back_is_priced_by_its_own_hours_alone() -> None:
    # The fixed check asks 100 of 70 hours in week 1. Ten more there cost 10 x 50 = 500; each
    # day later saves a seventh of that, 71.43, and costs 100 of late money.
    packages = tuple(
        Package(f"{hours} hours", (Stage("Work", "maintenance", 7, {"Mechanic": hours}),))
        for hours in (100.0, 10.0)
    )
    late = visit("A", 7, 0, 7, package="10.0 hours", agreed_out=day(7), late_cost_per_day=100.0)
    base = stories.base(
        bays(2),
        fixed("F", 7, 0, "B1", package="100.0 hours"),
        late,
        packages=packages,
        skills=(Skill("Mechanic", 50.0, 9.0, 70.0, 0.0),),
        working_weekdays=frozenset(range(7)),
    )
    made = built(base)
    search = RuinRecreate(made.program, nothing(made.program), seed=1)
    search.rounds(3, 1e-3, DAY)
    assert made.program.cost(search.best) == (0, pytest.approx(30 * 50 + 500))


def test_leaving_out_a_check_that_finds_no_place_counts_ever_more() -> None:
    # More short checks are in the way of the long one than a round takes out.
    short = [visit(f"S{number}", 1, number, number) for number in range(MOST_OUT + 1)]
    option = visit("O", MOST_OUT + 1, 0, 0, status=Status.OPTION)
    long = visit("L", MOST_OUT + 1, 0, 0)
    made = built(stories.base(bays(1), long, option, *short, longest_delay_days=0))
    chosen = np.concatenate([[-1, -1], made.program.first_column[2:-1]])
    search = RuinRecreate(made.program, chosen, seed=1)
    search.rounds(1_000, 1.0, DAY)
    now, plain = search._state.urgency, made.program.unplaced_past
    assert now[0] > plain[0]
    assert now[1:].tolist() == plain[1:].tolist()
    # The answer counts days past as they are.
    assert search.costs.best_days == made.program.cost(search.best)[0]


def test_a_base_without_any_hours_to_buy_has_rounds_too() -> None:
    made = built(stories.base(bays(2), visit("A", 3, 0, 4), visit("B", 3, 0, 4)))
    no_tiers = np.empty((0, *made.program.hours.supply.regular.shape))
    supply = SimpleNamespace(
        tiers=(no_tiers, no_tiers),
        kinds=made.program.hours.supply.kinds,
        weeks=made.program.hours.supply.weeks,
    )
    hours = SimpleNamespace(
        supply=supply,
        regular=made.program.hours.regular,
        cuts=made.program.hours.cuts,
        cells=made.program.hours.cells,
        are_levelled=False,
    )
    arrays = arrays_of(replace(made.program, hours=hours))
    assert arrays.slopes.shape == (len(made.program.asked), 0)
