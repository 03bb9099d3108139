"""The best set of enquiries, against textbook problems whose optimum is known."""

from dataclasses import replace
from itertools import combinations
from random import Random

import numpy as np
import pytest

from capacity import Settings
from capacity.facts import Base, Check, Package, Skill, Stage, Status
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.asking.standing_plan import standing_plan
from capacity.questions.enquiries.asked import ask
from capacity.questions.enquiries.combinations import best_combinations, with_cheapest_beside
from tests.questions.asking_about import base_and_enquiries, planned, refusing
from tests.reference import stories
from tests.reference.random_bases import tiny_base
from tests.reference.stories import bays, visit

# A knapsack problem with 15 items that is given to students; optimum 1458. From memory.
WEIGHTS = (70, 73, 77, 80, 82, 87, 90, 94, 98, 106, 110, 113, 115, 118, 120)
VALUES = (135, 139, 149, 150, 156, 163, 173, 184, 192, 201, 210, 214, 221, 229, 240)
CAPACITY, OPTIMUM = 750, 1458
# Jobs (begin, end, profit) of a much printed example of weighted interval scheduling; the best
# choice takes the first and the last. From memory.
JOBS = ((1, 2, 50), (3, 5, 20), (6, 19, 100), (2, 29, 200))
EMPTY = Plan(())


def option(name: str, days: int, first: int, price: float, **changes: object) -> Check:
    return visit(name, days, first, first, status=Status.OPTION, price=price, **changes)


def knapsack(weights: tuple[int, ...], values: tuple[int, ...], room: int) -> tuple[Base, list]:
    """One week of ``room`` man-hours, an hour more being dearer than any enquiry's price.

    A bay an enquiry, so that only the hours are scarce.
    """
    asks = tuple(
        Package(f"asks {n}", (Stage("Work", "maintenance", 7, {"Mechanic": float(weight)}),))
        for n, weight in enumerate(weights)
    )
    base = stories.base(bays(len(weights)), skills=(Skill("Mechanic", 0.0, 0.0, 0.0, 0.0),))
    crew = replace(base.crews[0], heads=room)
    shift = replace(base.shifts[0], hours=1.0)
    base = base.replace(
        packages=asks, crews=(crew,), shifts=(shift,), productivity=1 / 7, overload_cost=1e4
    )
    enquiries = [
        option(f"O{n:02d}", 7, 0, float(value), package=f"asks {n}")
        for n, value in enumerate(values)
    ]
    return base, enquiries


def knapsack_by_table(weights: tuple[int, ...], values: tuple[int, ...], room: int) -> int:
    """Bellman's recursion over the room that is left."""
    best = [0] * (room + 1)
    for weight, value in zip(weights, values, strict=True):
        for left in range(room, weight - 1, -1):
            best[left] = max(best[left], best[left - weight] + value)
    return best[room]


def intervals_by_table(jobs: list[tuple[int, int, int]]) -> int:
    """The recursion of weighted interval scheduling: the last job is in, or it is not."""
    in_turn = sorted(jobs, key=lambda job: job[1])
    best = [0]
    for number, (begin, _, profit) in enumerate(in_turn):
        before = sum(end <= begin for _, end, _ in in_turn[:number])
        best.append(max(best[-1], profit + best[before]))
    return best[-1]


def test_a_scarce_week_is_filled_like_the_textbook_knapsack() -> None:
    assert knapsack_by_table(WEIGHTS, VALUES, CAPACITY) == OPTIMUM
    base, enquiries = knapsack(WEIGHTS, VALUES, CAPACITY)
    answer = best_combinations(base, EMPTY, enquiries, runners_up=2)
    assert answer.best.proven
    assert answer.best.gain == pytest.approx(OPTIMUM)
    assert sum(WEIGHTS[int(name[1:])] for name in answer.best.names) <= CAPACITY


def test_the_sets_behind_the_best_are_the_next_best_of_all_sets() -> None:
    weights, values, room = (3, 4, 5, 9, 4), (3, 4, 4, 10, 5), 11
    base, enquiries = knapsack(weights, values, room)
    all_gains = sorted(
        (
            sum(values[n] for n in chosen)
            for count in range(6)
            for chosen in combinations(range(5), count)
            if sum(weights[n] for n in chosen) <= room
        ),
        reverse=True,
    )
    answer = best_combinations(base, EMPTY, enquiries, runners_up=6)
    told = (answer.best, *answer.runners_up)
    assert [one.gain for one in told] == pytest.approx(all_gains[:7])
    assert all(one.proven for one in told)
    assert len({one.names for one in told}) == 7


def test_one_bay_is_filled_like_textbook_intervals() -> None:
    enquiries = [
        option(f"J{n}", end - begin, begin, float(profit))
        for n, (begin, end, profit) in enumerate(JOBS)
    ]
    answer = best_combinations(stories.base(bays(1)), EMPTY, enquiries, runners_up=1)
    assert answer.best.names == ("J0", "J3")
    assert answer.best.gain == pytest.approx(250.0) == intervals_by_table(list(JOBS))
    # Without just this set the best is the long one alone.
    assert [one.names for one in answer.runners_up] == [("J3",)]


@pytest.mark.parametrize("seed", range(4))
def test_one_bay_is_filled_best_whatever_the_intervals(seed: int) -> None:
    rng = Random(seed)
    begins = [rng.randint(0, 50) for _ in range(12)]
    jobs = [(begin, begin + rng.randint(1, 15), rng.randint(1, 99)) for begin in begins]
    enquiries = [
        option(f"J{n}", end - begin, begin, float(profit))
        for n, (begin, end, profit) in enumerate(jobs)
    ]
    answer = best_combinations(stories.base(bays(1)), EMPTY, enquiries, runners_up=0)
    assert answer.best.proven
    assert answer.best.gain == pytest.approx(intervals_by_table(jobs))


def test_two_that_pay_alone_need_not_pay_together() -> None:
    base, enquiries = knapsack((6, 6), (10, 9), 10)
    answer = best_combinations(base, EMPTY, enquiries)
    assert [alone.gain for alone in answer.alone] == [pytest.approx(10.0), pytest.approx(9.0)]
    assert answer.best.names == ("O00",)
    assert [one.names for one in answer.runners_up] == [("O01",), (), ("O00", "O01")]
    assert answer.runners_up[-1].gain == pytest.approx(19.0 - 2 * base.overload_cost)


def test_there_are_no_more_runners_up_than_sets() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 0))
    plan = planned(base)
    assert plan is not None
    enquiries = [option("O", 3, 2, 50.0)]
    answer = best_combinations(base, plan, enquiries)
    assert (answer.best.names, answer.runners_up) == ((), ())
    assert answer.alone[0].gain is None


@pytest.mark.parametrize("seed", range(8))
def test_best_set_and_its_plan_stand_against_asking_one_by_one(seed: int) -> None:
    """Of two enquiries: none, each alone, or one beside the best place of the other."""
    rng = Random(40 + seed)
    base, enquiries = base_and_enquiries(tiny_base(rng), 2, rng)
    plan = planned(base)
    if plan is None:
        return
    before = audit(base, plan).goals.money
    answer = best_combinations(base, plan, enquiries)
    least = 0.0
    for first, second in (enquiries, enquiries[::-1]):
        (alone,) = ask(base, plan, [first])
        for slot in alone.slots:
            gain = first.price - slot.cost
            least = max(least, gain)
            taken = slot.taken_into(refusing(plan, [first]))
            (beside,) = ask(base.replace(checks=(*base.checks, first)), taken, [second])
            if beside.break_even is not None:
                least = max(least, gain + second.price - beside.break_even)
    assert answer.best.gain == pytest.approx(least, abs=0.01)
    whole = base.replace(checks=(*base.checks, *enquiries))
    for one in (answer.best, *answer.runners_up):
        found = audit(whole, one.plan)
        assert found.broken == ()
        assert before - found.goals.money == pytest.approx(one.gain, abs=0.005)
        assert one.moves == ()


def test_others_move_for_a_set_when_they_may() -> None:
    base = stories.base(bays(1), visit("B", 3, 0, 6, early_cost_per_day=10.0))
    plan = planned(base)
    assert plan is not None
    # B stands on days 6 to 8. Both enquiries fit once it comes in on day 3, for 30.
    enquiries = [option("O", 3, 6, 100.0), option("P", 3, 0, 50.0)]
    unmoved = best_combinations(base, plan, enquiries)
    assert (unmoved.best.names, unmoved.best.gain) == (("P",), pytest.approx(50.0))
    moved = best_combinations(base, plan, enquiries, may_move=None, settings=Settings(seconds=20))
    assert (moved.best.names, moved.best.gain) == (("O", "P"), pytest.approx(120.0))
    assert moved.best.costs.early_of_others == pytest.approx(30.0)
    assert [(move.check, move.days) for move in moved.best.moves] == [("B", -3)]


def test_enquiries_that_stand_side_by_side_are_known_without_any_search() -> None:
    """Two bays take two of three enquiries; putting them in one by one finds the dearest two."""
    base = stories.base(bays(2))
    enquiries = [option(f"O{n}", 7, 0, price) for n, price in enumerate((50.0, 70.0, 60.0))]
    standing = standing_plan(base, EMPTY, enquiries)
    own = np.array([standing.number_of(enquiry.name) for enquiry in enquiries])
    chosen = with_cheapest_beside(standing.program, own, standing.chosen)
    assert [
        enquiry.name for enquiry in enquiries if chosen[standing.number_of(enquiry.name)] >= 0
    ] == [
        "O1",
        "O2",
    ]
    assert standing.program.cost(chosen) == (0, pytest.approx(-130.0))
