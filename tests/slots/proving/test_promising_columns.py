"""Columns of small reduced cost solved by themselves: bounds hold, the optimum stays what it is."""

from random import Random

import numpy as np
import pytest

from capacity.search_settings import SearchSettings
from capacity.slots.engines.highs import branch_and_cut, relaxed
from capacity.slots.line.reports import MoneyBound
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.program import Program
from capacity.slots.proving import promising_columns
from capacity.slots.proving import side as proving_side
from capacity.slots.proving.promising_columns import Promising
from capacity.slots.proving.side import prove
from tests.bench.invented import invented_quarter
from tests.bench.levelled import levelled
from tests.slots.building import built, some_choice
from tests.slots.desk import Desk

CENT = 0.01


@pytest.fixture(scope="module", params=[False, True], ids=["even hours", "levelled hours"])
def program(request: pytest.FixtureRequest) -> Program:
    """Four bays and eight checks in six weeks, all of which come in by their Latest in."""
    base = invented_quarter(2, bays=4, checks=8, weeks=6)
    return built(levelled(base) if request.param else base).program


def test_whoever_has_another_column_costs_at_least_what_is_said(program: Program) -> None:
    relaxation = relaxed(money_form(program))
    assert relaxation is not None
    some = Promising.of(program, relaxation, 40, None)
    assert some.restricted.program.size == 40
    rng, seen = Random(1), 0
    for _ in range(200):
        chosen = some_choice(program, rng)
        if some.restricted.from_whole(chosen) is None:
            seen += 1
            assert program.cost(chosen)[1] >= some.others_cost_at_least - CENT
    assert seen
    assert some.bound(some.others_cost_at_least + 1.0) == some.others_cost_at_least


def test_the_best_choice_known_is_always_among_them(program: Program) -> None:
    relaxation = relaxed(money_form(program))
    assert relaxation is not None
    best = some_choice(program, Random(2))
    some = Promising.of(program, relaxation, 1, best)
    here = some.restricted.found_here(best)
    assert np.array_equal(some.restricted.to_whole(here), best)


def sizes_solved(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Return a list that comes to have the columns of each program given to branch-and-cut."""
    sizes: list[int] = []

    def watched(form, *arguments, **options):
        sizes.append(form.program.size)
        return branch_and_cut(form, *arguments, **options)

    for module in (promising_columns, proving_side):
        monkeypatch.setattr(module, "branch_and_cut", watched)
    return sizes


def test_the_optimum_is_found_and_proven_with_ever_more_of_them(
    program: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    sizes = sizes_solved(monkeypatch)
    settings = SearchSettings(promising_columns=20, promising_share=1.0, patience_share=0.005)
    desk = Desk(program, 60.0, settings)
    prove(desk)
    days, money = desk.best[1]
    optimum = branch_and_cut(money_form(program.within_days(days).program), None, 60.0)
    assert money == pytest.approx(optimum.bound, abs=CENT)
    told = [word.money for word in desk.words if isinstance(word, MoneyBound) and word.days >= days]
    assert max(told) == pytest.approx(optimum.bound, abs=CENT)
    assert min(sizes) < max(sizes) / 2


def test_long_plans_have_all_of_their_time_for_the_whole(
    program: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    sizes = sizes_solved(monkeypatch)
    short = len(program.checks) - 1
    settings = SearchSettings(
        promising_columns=20, patience_share=0.005, most_checks_without_windows=short
    )
    prove(Desk(program, 60.0, settings))
    assert sizes
    assert min(sizes) > 20 * settings.promising_growth
