"""Levelled hours in the program: what a choice costs is what its plan is audited at."""

import numpy as np
import pytest

from capacity.plans.audit import Auditor
from capacity.slots.candidates.levelling import shares_of
from capacity.slots.engines.highs import branch_and_cut, relaxed
from capacity.slots.finding.levelled_descent import LevelledDescent
from capacity.slots.finding.ruin_recreate import RuinRecreate
from capacity.slots.program.dominated_columns import undominated
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Restricted
from tests.bench.invented import invented_quarter
from tests.bench.invented_hangar import invented_hangar
from tests.bench.levelled import beside_each_other, levelled
from tests.slots.building import Built, built

CENT = 0.01


@pytest.fixture(scope="module", params=[(1.25, False), (2.0, True)], ids=["peak", "peak and float"])
def quarter(request: pytest.FixtureRequest) -> Built:
    """Four bays and twelve checks; stages beside each other, so that some have float."""
    peak, into_float = request.param
    base = beside_each_other(invented_quarter(1, bays=4, checks=12, weeks=6))
    return built(levelled(base, peak, into_float=into_float))


def choices_of(made: Built, count: int) -> list[np.ndarray]:
    """Return choices by chance that keep all rows, good and bad ones."""
    rng, found = np.random.default_rng(1), []
    program = made.program
    for _ in range(count):
        chosen = program.no_choice()
        for check in rng.permutation(len(program.checks)):
            columns = program.free_columns(int(check), program.slack(chosen))
            if len(columns):
                chosen[check] = rng.choice(columns)
        found.append(chosen)
    return found


def test_a_choice_costs_what_the_audit_of_its_plan_says(quarter):
    auditor = Auditor(quarter.base)
    for chosen in choices_of(quarter, 8):
        audit = auditor.audit(plan_of(chosen, quarter.program, quarter.slots))
        days, money = quarter.program.cost(chosen)
        assert audit.broken == ()
        assert (audit.goals.days_past_latest_in, audit.goals.money) == (
            days,
            pytest.approx(money, abs=CENT),
        )


def test_levelling_never_makes_a_choice_dearer(quarter):
    hours = quarter.program.hours
    cheaper = 0
    for chosen in choices_of(quarter, 8):
        load = quarter.program.load(chosen)
        even, levelled_ = hours.even_money(load[: hours.cells]), hours.money(load)
        assert levelled_ <= even + CENT
        cheaper += levelled_ < even - 1.0
    assert cheaper


def test_the_linear_form_has_the_choice_at_its_cost(quarter):
    form = money_form(quarter.program)
    for chosen in choices_of(quarter, 4):
        entries = form.entries_of(chosen)
        rows = form.matrix @ entries
        assert (rows <= form.row_upper + 1e-6).all()
        assert (rows >= form.row_lower - 1e-6).all()
        assert (entries <= form.upper + 1e-6).all()
        assert form.cost @ entries + form.offset == pytest.approx(
            quarter.program.cost(chosen)[1], abs=CENT
        )


def test_the_relaxation_is_below_every_choice(quarter):
    found = relaxed(money_form(quarter.program))
    assert found is not None
    for chosen in choices_of(quarter, 4):
        assert found.value <= quarter.program.cost(chosen)[1] + CENT


def test_rounds_count_a_spread_that_is_possible(quarter):
    """The money of the rounds is that of some spread: never below the cheapest, seldom above."""
    chosen = choices_of(quarter, 1)[0]
    search = RuinRecreate(quarter.program, chosen, seed=1)
    begun, cheapest = search.costs.money, quarter.program.cost(chosen)[1]
    assert cheapest - CENT <= begun <= cheapest + 0.1 * abs(cheapest) + 1.0
    search.rounds(300, 2000.0, 1e6)
    now = quarter.program.cost(search.best)[1]
    assert now - CENT <= search.costs.best_money
    assert search.costs.best_money < begun


def test_columns_that_give_way_leave_the_optimum_what_it_is():
    made = built(levelled(invented_quarter(2, bays=3, checks=6, weeks=4), 1.5))
    program = made.program
    whole = Restricted(program, np.arange(program.size))
    fewer = undominated(whole, program.size)
    assert fewer.program.size < program.size
    costs = [branch_and_cut(money_form(some.program), None, 60.0).bound for some in (whole, fewer)]
    assert costs[0] == pytest.approx(costs[1], rel=1e-5, abs=0.1)


def test_the_descent_leaves_no_single_move_that_saves():
    made = built(levelled(invented_quarter(3, bays=3, checks=6, weeks=4), 1.5))
    program = made.program
    descent = LevelledDescent(program, choices_of(made, 1)[0])
    descent.run(np.inf)
    assert descent.is_done
    cost = program.cost(descent.chosen)
    for check in range(len(program.checks)):
        for column in (-1, *program.columns_of(check)):
            other = descent.chosen.copy()
            other[check] = column
            if program.holds(other):
                found = program.cost(other)
                assert (found[0], found[1] + CENT) > cost


@pytest.mark.long
def test_shared_crews_and_long_stages_are_levelled_too():
    """Crews of several skills price weeks together; stages of many weeks have limits in pairs."""
    made = built(levelled(invented_hangar(1), 1.5, into_float=True))
    auditor = Auditor(made.base)
    (chosen,) = choices_of(made, 1)
    audit = auditor.audit(plan_of(chosen, made.program, made.slots))
    assert audit.broken == ()
    assert audit.goals.money == pytest.approx(made.program.cost(chosen)[1], abs=CENT)


def test_limits_of_a_stage_by_hand():
    """Four days in the first week and six in the second; at 150 % a day takes 15 of 100 h.

    So the first week takes 60 at the most and, as the second takes 90, 10 at the least.
    """
    even, most = np.array([[0.4, 0.6]]), np.array([[0.6, 0.9]])
    later, earlier, more, less, *_ = shares_of(even, most)[:, 0]
    assert later == pytest.approx([0.3, 0.0])
    assert earlier == pytest.approx([0.2, 0.0])
    assert more == pytest.approx([0.2, 0.3])
    assert less == pytest.approx([0.3, 0.2])
