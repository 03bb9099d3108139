"""No plan is told from which moving one check, or two, would save anything.

Held against all moves and all pairs of moves, tried one after the other with the program's own
costs, and on small bases against the audit, which shares no code with any of that.
"""

import time
from collections.abc import Iterator
from itertools import combinations
from random import Random

import numpy as np
import pytest

import capacity
from capacity.facts import Base, Status
from capacity.plans.plan import Plan
from capacity.slots.finding.last_descent import LastDescent, descended
from capacity.slots.line.mailbox import is_better
from capacity.slots.program.places import columns_at, old_places
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program
from capacity.slots.search import searching as search
from tests.bench.invented import invented_quarter
from tests.reference import stories
from tests.reference.random_bases import small_base
from tests.reference.stories import bays, day, visit
from tests.slots.building import Built, Choice, built, columns_of_check, nothing, some_choice
from tests.slots.rich_bases import rich_base

# Small enough to try all pairs of moves. Those of rich bases have crews of several skills, some
# priced by a linear program only, equipment, shops, ways, shared floor and moves between bays.
RICH, SMALL = (18, 25, 29, 36, 42, 93, 224, 390), (1, 5, 8, 11, 38, 39)
BASES = [
    *(pytest.param(rich_base, seed, id=f"rich {seed}") for seed in RICH),
    *(pytest.param(small_base, seed, id=f"small {seed}") for seed in SMALL),
]
A_CENT = 0.01


def moves_of_one(program: Program, chosen: Choice) -> Iterator[Choice]:
    """Yield the choice with each check at each of its columns, or left out."""
    for check in range(len(chosen)):
        for column in (-1, *columns_of_check(program, check).tolist()):
            yield with_(chosen, {check: column})


def moves_of_two(program: Program, chosen: Choice) -> Iterator[Choice]:
    for one, other in combinations(range(len(chosen)), 2):
        for column in (-1, *columns_of_check(program, one).tolist()):
            for its in (-1, *columns_of_check(program, other).tolist()):
                yield with_(chosen, {one: column, other: its})


def with_(chosen: Choice, columns: dict[int, int]) -> Choice:
    moved = chosen.copy()
    moved[list(columns)] = list(columns.values())
    return moved


def saving_move(program: Program, chosen: Choice) -> Choice | None:
    """Try everything; return a move of one or two checks that saves a cent or a day past."""
    days, money = program.cost(chosen)
    for moved in (*moves_of_one(program, chosen), *moves_of_two(program, chosen)):
        if program.days_past(moved) > days or not program.holds(moved):
            continue
        if is_better(program.cost(moved), (days, money - A_CENT)):
            return moved
    return None


def settled(program: Program, chosen: Choice) -> Choice:
    found, is_done = descended(program, chosen, 60.0)
    assert is_done
    assert program.holds(found)
    assert not is_better(program.cost(chosen), program.cost(found))
    return found


@pytest.mark.parametrize(("some_base", "seed"), BASES)
def test_no_move_of_one_check_or_of_two_saves_anything(some_base: object, seed: int) -> None:
    rng = Random(seed)
    made = built(some_base(rng))
    chosen = some_choice(made.program, rng)
    assert saving_move(made.program, settled(made.program, chosen)) is None


def test_among_them_are_bases_whose_hours_only_a_linear_program_prices() -> None:
    exact = {built(rich_base(Random(seed))).program.hours.cuts.is_exact for seed in RICH}
    assert exact == {False, True}


@pytest.mark.parametrize("seed", [4, 18])
def test_by_the_audit_no_move_of_one_check_saves_anything(seed: int) -> None:
    rng = Random(seed)
    made = built(rich_base(rng))
    chosen = settled(made.program, some_choice(made.program, rng))
    goals = audited(made, chosen)
    assert goals is not None
    for moved in moves_of_one(made.program, chosen):
        of_moved = audited(made, moved) if made.program.holds(moved) else None
        assert of_moved is None or of_moved >= (goals[0], goals[1] - A_CENT)


def audited(made: Built, chosen: Choice) -> tuple[int, float] | None:
    """Return what the audit says that a choice costs, None when it does not stand."""
    audit = made.audited(chosen)
    if audit.broken:
        return None
    return audit.goals.days_past_latest_in, audit.goals.money


# Two bays: A and B each stand where it is dearer, and neither can go before the other has gone.
SWAP = stories.base(
    bays(1),
    visit("A", 5, 0, 5, early_cost_per_day=100.0),
    visit("B", 5, 0, 5, early_cost_per_day=10.0),
    longest_delay_days=0,
)


def test_two_checks_that_must_change_places_do() -> None:
    program = built(SWAP).program
    first = {check: columns_of_check(program, check) for check in (0, 1)}
    in_day = {check: program.in_day[columns] for check, columns in first.items()}
    dear = nothing(program)
    dear[0] = first[0][in_day[0] == in_day[0].min()][0]
    dear[1] = first[1][in_day[1] == in_day[1].max()][0]
    assert program.cost(dear)[1] == 500.0
    assert program.cost(settled(program, dear))[1] == 50.0


def test_an_option_is_taken_in_for_another_one() -> None:
    poor = visit("P", 5, 0, 0, status=Status.OPTION, price=10.0)
    rich = visit("R", 5, 0, 0, status=Status.OPTION, price=900.0)
    program = built(stories.base(bays(1), poor, rich)).program
    chosen = with_(nothing(program), {0: int(columns_of_check(program, 0)[0])})
    assert settled(program, chosen).tolist() == [-1, int(columns_of_check(program, 1)[0])]


def test_an_option_that_costs_more_than_it_earns_is_left_out() -> None:
    dear = visit(
        "D", 5, 0, 0, status=Status.OPTION, price=10.0, agreed_out=day(1), late_cost_per_day=100.0
    )
    program = built(stories.base(bays(1), dear)).program
    chosen = with_(nothing(program), {0: int(columns_of_check(program, 0)[0])})
    assert settled(program, chosen).tolist() == [-1]


def columns_of(plan: Plan, base: Base) -> tuple[Program, Choice]:
    made = built(base)
    return made.program, columns_at(old_places(made.slots, plan.by_check()), made.program)


@pytest.mark.parametrize("seed", [1, 5])
def test_a_search_without_any_time_tells_no_such_plan(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    base = small_base(Random(seed))
    search_less = capacity.SearchSettings(seconds_at_once=0.0)
    hardly_any = capacity.Settings(seconds=0.1, search=search_less)
    looked = capacity.plan(base, hardly_any)
    monkeypatch.setattr(search, "look_last", lambda *given: False)
    without = capacity.plan(base, hardly_any)
    assert isinstance(looked, capacity.Planned)
    assert isinstance(without, capacity.Planned)
    assert saving_move(*columns_of(without.plan, base)) is not None  # else the test says nothing
    assert saving_move(*columns_of(looked.plan, base)) is None
    assert looked.notes == ()


def test_a_look_that_is_cut_short_is_told() -> None:
    no_time = capacity.SearchSettings(least_seconds_for_last_look=0.0)
    outcome = capacity.plan(invented_quarter(4), capacity.Settings(seconds=0.1, search=no_time))
    assert isinstance(outcome, capacity.Planned)
    assert search.CUT_SHORT in outcome.notes


def test_ctrl_c_ends_the_look_with_what_it_has(monkeypatch: pytest.MonkeyPatch) -> None:
    program = built(SWAP).program

    def interrupted(self: LastDescent, until: float) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(LastDescent, "run", interrupted)
    chosen, is_done = descended(program, nothing(program), 60.0)
    assert chosen.tolist() == [-1, -1]
    assert not is_done


def test_an_end_in_between_keeps_the_rows_and_is_no_worse() -> None:
    made = built(invented_quarter(2, bays=4, checks=12, weeks=6, lanes=True))
    begin = some_choice(made.program, Random(3))
    descent = LastDescent(made.program, begin)
    for _ in range(5):
        descent.run(time.monotonic() + 0.05)
        assert made.program.holds(descent.chosen)
        assert not is_better(made.program.cost(begin), made.program.cost(descent.chosen))
    made.audited(descent.chosen)
    assert not np.array_equal(descent.chosen, begin)
    assert plan_of(descent.chosen, made.program, made.slots).placements
