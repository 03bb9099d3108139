"""The linear form says of every choice what the program says of it."""

from random import Random

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.program.linear_form import LinearForm, days_form, money_form, telling_cells
from tests.reference import stories
from tests.reference.levelled_bases import with_levelling
from tests.reference.random_bases import small_base
from tests.reference.stories import bays, visit
from tests.slots.building import Choice, built, some_choice
from tests.slots.program.test_program import overtime_base

forty_bases = settings(deadline=None, max_examples=40)


def breaks(form: LinearForm, chosen: Choice) -> bool:
    """Say whether the entries of a choice lie outside a row or a bound."""
    entries = form.entries_of(chosen)
    rows = form.matrix @ entries
    inside = (form.row_lower - 1e-7 <= rows) & (rows <= form.row_upper + 1e-7)
    bounded = (entries >= 0) & (entries <= form.upper + 1e-7)
    return not (inside.all() and bounded.all())


@given(rng=st.randoms(use_true_random=False))
@forty_bases
def test_money_and_days_are_those_of_the_program(rng: Random) -> None:
    program = built(small_base(rng)).program
    chosen = some_choice(program, rng)
    for form, cost in zip(
        (days_form(program), money_form(program)), program.cost(chosen), strict=True
    ):
        assert form.cost @ form.entries_of(chosen) + form.offset == pytest.approx(cost)


@given(rng=st.randoms(use_true_random=False))
@forty_bases
def test_a_choice_comes_back_from_its_entries(rng: Random) -> None:
    program = built(small_base(rng)).program
    chosen = some_choice(program, rng)
    form = money_form(program)
    assert form.chosen_of(form.entries_of(chosen)).tolist() == chosen.tolist()
    assert np.isin(form.entries_of(chosen)[: form.integers], [0.0, 1.0]).all()


@given(rng=st.randoms(use_true_random=False))
@forty_bases
def test_a_choice_that_keeps_the_rows_keeps_those_of_the_form(rng: Random) -> None:
    program = built(small_base(rng)).program
    assume(program.size)
    chosen = some_choice(program, rng)
    within = program.within_days(program.days_past(chosen))
    mine = within.from_whole(chosen)
    assert mine is not None
    assert not breaks(money_form(within.program), mine)
    assert not breaks(days_form(program), chosen)


def test_a_choice_that_breaks_a_row_or_the_days_breaks_the_form() -> None:
    both = visit("A", 3, 0, 2), visit("B", 3, 0, 2)
    program = built(stories.base(bays(1), *both, longest_delay_days=1)).program
    assert breaks(money_form(program), np.array([0, 6]))  # both in the bay on day 2
    within = program.within_days(1).program
    assert not breaks(money_form(within), np.array([0, 7]))  # a day past
    assert breaks(money_form(within), np.array([0, -1]))  # two days past


def test_only_cells_that_could_ask_too_much_are_in_the_form() -> None:
    # 100 hours against 70 a week.
    program = built(overtime_base()).program
    assert telling_cells(program).tolist() == [0]
    roomy = built(overtime_base().replace(productivity=2.0)).program
    assert telling_cells(roomy).tolist() == []


def test_hours_that_could_be_moved_where_nothing_lacks_any() -> None:
    rng = Random(7)
    program = built(with_levelling(small_base(rng), rng)).program
    form = money_form(program)
    assert not len(form.arcs.pool)
    assert len(form.flows)
    chosen = some_choice(program, rng)
    cost = form.cost @ form.entries_of(chosen) + form.offset
    assert cost == pytest.approx(program.cost(chosen)[1])
    solved = branch_and_cut(form, chosen, 5)
    assert solved.finished
