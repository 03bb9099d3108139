"""Rows for sets of weeks: they hold for every plan, and close the gap of the known example."""

from random import Random

import numpy as np
import pytest

import capacity
from capacity.settings import Settings
from capacity.slots.engines.highs import relax
from capacity.slots.program.build import build
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.program import Program
from capacity.slots.program.strands import WeekSet
from capacity.slots.program.week_sets import sets_broken_by
from tests.reference.every_rule_bases import every_rule_base
from tests.reference.levelled_bases import with_levelling
from tests.reference.test_levelling import some_done
from tests.slots.program.test_spread_load import four_weeks


def test_with_the_sets_that_a_choice_breaks_the_program_costs_what_it_does() -> None:
    """Weeks 1 and 3 of the mechanics: 140 h of the four weeks' 2,800 do not fit there."""
    program = build(four_weeks()).program
    chosen = program.first_column[:-1].copy()
    sets = sets_broken_by(program, chosen)
    assert WeekSet(0, (1, 3)) in sets
    exact = program.cost(chosen)[1]
    # Nobody is left out.
    timely = program.within_days(program.days_past(chosen)).program
    without, with_them = (relax(money_form(timely, some)) for some in ((), sets))
    assert without == pytest.approx(0.0, abs=1e-6)
    assert with_them == pytest.approx(exact, abs=0.01)


def test_the_gap_of_stages_of_four_weeks_is_closed() -> None:
    planned = capacity.plan(four_weeks(), Settings(seconds=2))
    assert isinstance(planned, capacity.Planned)
    assert planned.bound == pytest.approx(84 * 60 + 56 * 80, abs=0.01)
    assert planned.stopped_by == "proof"


def some_choice(program: Program, rng: Random) -> np.ndarray:
    """Return a choice that keeps all rows, check by check in any of the places that are left."""
    chosen = program.no_choice()
    for check in rng.sample(range(len(program.checks)), len(program.checks)):
        free = program.free_columns(check, program.slack(chosen))
        if len(free):
            chosen[check] = rng.choice(free.tolist())
    return chosen


@pytest.mark.parametrize("done", [False, True])
@pytest.mark.parametrize("seed", [0, 8, 9, 12, 17, 31])
def test_no_plan_breaks_a_row_of_any_set_of_weeks(seed: int, done: bool) -> None:
    """The hours of any choice, each stage levelled by itself, keep the rows of any sets."""
    rng = Random(seed)
    base = with_levelling(every_rule_base(Random(seed)), Random(seed))
    if done:
        planned = capacity.plan(base, Settings(seconds=4))
        if isinstance(planned, capacity.Planned):
            base = base.replace(work_done=tuple(some_done(planned.plan, base, rng)))
    program = build(base).program
    hours = program.hours
    if not hours.are_levelled:
        return
    weeks = range(hours.supply.weeks)
    sets = tuple(
        WeekSet(kind, tuple(sorted(rng.sample(weeks, rng.randint(1, len(weeks) - 1)))))
        for kind in range(hours.supply.kinds)
        for _ in range(6)
    )
    form = money_form(program, sets)
    for _ in range(10):
        chosen = some_choice(program, rng)
        entries = form.entries_of(chosen)
        over = form.matrix @ entries - form.row_upper
        assert over[-len(sets) :].max() <= 1e-6
        assert float(form.cost @ entries) + form.offset == pytest.approx(
            program.cost(chosen)[1], rel=1e-6, abs=0.01
        )
