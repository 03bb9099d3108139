import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from random import Random

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from capacity.facts import Status
from capacity.slots.engines import cpsat
from capacity.slots.engines.highs import Listener, branch_and_cut, relax
from capacity.slots.program.first_come import first_come
from capacity.slots.program.linear_form import LinearForm, days_form, money_form
from tests.bench.invented import invented_quarter
from tests.reference import stories
from tests.reference.random_bases import small_base
from tests.reference.second_solutions import best_by_milp, clash_of_fixed
from tests.reference.stories import bays, day, visit
from tests.slots.building import Built, Choice, built, keeps_rows, nothing, some_choice

ROOT = Path(__file__).parents[3]
SECONDS = 30.0
GAP = 1e-6


@pytest.fixture(scope="module")
def quarter() -> Built:
    """Four bays, twelve checks and six weeks, some of them overloaded."""
    return built(invented_quarter(1, bays=4, checks=12, weeks=6))


def value_of(form: LinearForm, chosen: Choice | None) -> float:
    assert chosen is not None
    return float(form.cost @ form.entries_of(chosen)) + form.offset


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=30)
def test_both_goals_come_to_the_optimum_of_the_second_solution(rng: Random) -> None:
    base = small_base(rng)
    assume(not clash_of_fixed(base))
    program = built(base).program
    assume(program.size)
    days, money = best_by_milp(base)
    solved = branch_and_cut(days_form(program), nothing(program), SECONDS)
    assert solved.finished
    assert solved.bound == pytest.approx(days)
    restricted = program.within_days(days)
    form = money_form(restricted.program)
    cheapest = branch_and_cut(form, None, SECONDS, GAP)
    assert cheapest.finished
    assert value_of(form, cheapest.chosen) == pytest.approx(money, rel=2 * GAP, abs=0.01)
    assert keeps_rows(restricted.program, cheapest.chosen)


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=30)
def test_wherever_it_begins_it_ends_at_the_optimum(rng: Random) -> None:
    program = built(small_base(rng)).program
    assume(program.size)
    start = some_choice(program, rng)
    for form in (days_form(program), money_form(program)):
        alone = branch_and_cut(form, None, SECONDS, GAP)
        begun = branch_and_cut(form, start, SECONDS, GAP)
        best = value_of(form, alone.chosen)
        assert value_of(form, begun.chosen) == pytest.approx(best, rel=2 * GAP, abs=1e-6)
        assert begun.bound == pytest.approx(best, rel=2 * GAP, abs=1e-6)


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=30)
def test_the_relaxation_is_never_above_the_optimum(rng: Random) -> None:
    program = built(small_base(rng)).program
    assume(program.size)
    for form in (days_form(program), money_form(program)):
        relaxation, solved = relax(form), branch_and_cut(form, None, SECONDS)
        assert relaxation is not None
        best = value_of(form, solved.chosen)
        assert relaxation <= best + GAP * max(1.0, abs(best))


def test_no_choice_within_too_few_days_past_is_no_answer() -> None:
    # Two visits want the one bay on the same days; one of them is a day past at the least.
    both = visit("A", 3, 0, 0), visit("B", 1, 0, 0)
    program = built(stories.base(bays(1), *both)).program
    form = money_form(program.within_days(0).program)
    assert relax(form) is None or relax(form) >= 0
    solved = branch_and_cut(form, None, SECONDS)
    assert (solved.chosen, solved.bound) == (None, float("inf"))


def test_a_listener_hears_bounds_that_rise_and_choices_that_fit(quarter: Built) -> None:
    bounds: list[float] = []
    choices: list[Choice] = []
    start = first_come(quarter.program, quarter.slots)
    restricted = quarter.program.within_days(quarter.program.days_past(start))
    form = money_form(restricted.program)
    listener = Listener(on_bound=bounds.append, on_choice=choices.append)
    solved = branch_and_cut(form, restricted.from_whole(start), 20.0, 0.02, listener)
    assert choices
    assert all(keeps_rows(restricted.program, chosen) for chosen in choices)
    assert max(bounds) <= solved.bound + 1e-6 * abs(solved.bound)
    best = min(value_of(form, chosen) for chosen in choices)
    assert max(bounds) <= best * (1 + GAP)


def test_a_listener_can_stop_it(quarter: Built) -> None:
    start = first_come(quarter.program, quarter.slots)
    restricted = quarter.program.within_days(quarter.program.days_past(start))
    form = money_form(restricted.program)
    solved = branch_and_cut(form, None, 600.0, 0.0, Listener(stop=lambda: True))
    assert not solved.finished
    assert solved.bound <= value_of(form, restricted.from_whole(start))


def test_a_choice_found_elsewhere_is_taken_over(quarter: Built) -> None:
    program = quarter.program
    start = first_come(program, quarter.slots)
    restricted = program.within_days(program.days_past(start))
    form = money_form(restricted.program)
    better = branch_and_cut(form, restricted.from_whole(start), 10.0, 0.05).chosen
    words: Iterator[Choice] = iter([better])
    listener = Listener(better=lambda: next(words, None))
    solved = branch_and_cut(form, None, 10.0, 0.05, listener)
    assert value_of(form, solved.chosen) <= value_of(form, better) + 1e-6


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=30)
def test_cp_sat_returns_a_choice_that_fits_and_keeps_the_days(rng: Random) -> None:
    whole = built(small_base(rng)).program
    start = some_choice(whole, rng)
    restricted = whole.within_days(whole.days_past(start))
    assume(restricted.program.size)
    found = cpsat.solve(restricted.program, restricted.from_whole(start), SECONDS, seed=1)
    assert found is not None
    assert keeps_rows(restricted.program, found)
    assert whole.days_past(restricted.to_whole(found)) <= whole.days_past(start)


def test_cp_sat_finds_the_optimum_where_no_hours_are_rounded() -> None:
    # Weighted tardiness 67, as among the examples from outside.
    jobs = {"1": (12, 16, 4.0), "2": (8, 26, 5.0), "3": (15, 25, 3.0), "4": (9, 27, 5.0)}
    visits = [
        visit(job, days, 0, 60, agreed_out=day(due), late_cost_per_day=weight)
        for job, (days, due, weight) in jobs.items()
    ]
    made = built(stories.base(bays(1), *visits))
    restricted = made.program.within_days(0)
    start = restricted.from_whole(first_come(made.program, made.slots))
    found = cpsat.solve(restricted.program, start, SECONDS, seed=1)
    assert found is not None
    assert restricted.program.cost(found) == (0, 67.0)


def test_cp_sat_puts_no_more_into_a_group_of_bays_than_it_has() -> None:
    options = [visit(name, 3, 0, 0, status=Status.OPTION, price=100.0) for name in "ABC"]
    program = built(stories.base(bays(2), *options)).program
    found = cpsat.solve(program, nothing(program), SECONDS, seed=1)
    assert found is not None
    assert keeps_rows(program, found)
    assert program.cost(found) == (0, -200.0)


def test_cp_sat_says_so_when_nothing_fits() -> None:
    both = visit("A", 3, 0, 0), visit("B", 1, 0, 0)
    program = built(stories.base(bays(1), *both)).program.within_days(0).program
    assert cpsat.solve(program, nothing(program), SECONDS, seed=1) is None
    assert np.all(program.past == 0)


AFTER_CP_SAT = """
import signal
from capacity.slots.engines import cpsat
from tests.reference import stories
from tests.slots.building import built, nothing

# A process started in the background inherits an ignored Ctrl-C.
signal.signal(signal.SIGINT, signal.default_int_handler)
program = built(stories.base(stories.bays(1), stories.visit("A", 3, 0, 5))).program
cpsat.solve(program, nothing(program), 5.0, seed=1)
try:
    signal.raise_signal(signal.SIGINT)
except KeyboardInterrupt:
    raise SystemExit(42)
"""


def test_cp_sat_leaves_ctrl_c_as_it_was() -> None:
    # In a process of its own: without Python's handler an interrupt would end this one.
    ended = subprocess.run([sys.executable, "-c", AFTER_CP_SAT], cwd=ROOT, check=False)
    assert ended.returncode == 42
