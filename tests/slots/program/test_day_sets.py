"""Man-hours counted by days: what a choice costs, and rows for sets of days that hold for all."""

from dataclasses import replace
from random import Random

import numpy as np
import pytest

import capacity
from capacity.facts import Base, Crew, Pattern
from capacity.plans.plan import Plan
from capacity.settings import Settings
from capacity.slots.engines.highs import relax
from capacity.slots.program.build import build
from capacity.slots.program.linear_form import money_form
from tests.bases import FIRST_DAY, day
from tests.plans.stories import MECHANIC, base, check, package, stage
from tests.reference.every_rule_bases import every_rule_base
from tests.reference.levelled_bases import with_levelling
from tests.slots.program.test_week_sets import some_choice

MONDAY_ONLY = Pattern("Monday only", ("Day", None, None, None, None, None, None))
CALLED_IN = replace(MECHANIC, overtime_cap=0.5)


def two_days(peak: float, *, counts_days: bool = True) -> Base:
    """Twenty hours on Monday and Tuesday; two people with ten hours each are there on Monday."""
    work = replace(stage("Work", 2, hours=20), daily_peak=peak)
    return base(
        check(package="Heavy", earliest_in=day(0), latest_in=day(0)),
        packages=(package(work),),
        crews=(Crew("Two", ("Mechanic",), 2, MONDAY_ONLY.name, FIRST_DAY),),
        patterns=(MONDAY_ONLY,),
        skills=(CALLED_IN,),
        counts_days=counts_days,
    )


@pytest.mark.parametrize(("peak", "tuesday"), [(1.0, 10.0), (1.5, 5.0), (2.0, 0.0)])
def test_two_days_and_a_shift_on_one_of_them(peak: float, tuesday: float) -> None:
    """Monday's 20 h suffice for the week, but what lies on Tuesday is overtime at 60.

    Evenly it is 10 h; at a peak of 150 % Monday takes 15 h; at 200 % all of it. Worked by hand.
    """
    planned = capacity.plan(two_days(peak), Settings(seconds=2))
    assert isinstance(planned, capacity.Planned)
    assert planned.audit.goals.money == pytest.approx(60 * tuesday)
    assert planned.bound == pytest.approx(60 * tuesday, abs=0.01)
    assert planned.day_shortages == ()
    (week,) = [one for one in planned.audit.weeks if one.demand]
    assert (week.demand, week.regular, week.overtime) == pytest.approx((20.0, 20.0, tuesday))
    if peak > 1.0:
        (stated,) = _stage(planned.plan).hours
        assert dict(stated.by_day) == pytest.approx(
            {day(0): 20.0 - tuesday, **({day(1): tuesday} if tuesday else {})}
        )


def _stage(plan: Plan):
    return plan.placements[0].stages[0]


def test_by_weeks_the_same_two_days_buy_nothing() -> None:
    planned = capacity.plan(two_days(1.0, counts_days=False), Settings(seconds=2))
    assert isinstance(planned, capacity.Planned)
    assert planned.audit.goals.money == 0.0
    assert planned.day_shortages[0].overtime == pytest.approx(10.0)


def test_where_all_days_are_alike_they_cost_what_their_weeks_do() -> None:
    """Three weeks from a Monday on, every day the same people: 30 h a day are asked, 20 there."""
    work = stage("Work", 21, hours=630)
    usual = base(
        check(package="Heavy", earliest_in=day(0), latest_in=day(0)),
        packages=(package(work),),
        crews=(Crew("Two", ("Mechanic",), 2, "Daily", FIRST_DAY),),
    )
    weeks, days = (
        capacity.plan(usual.replace(counts_days=counts), Settings(seconds=2))
        for counts in (False, True)
    )
    assert weeks.audit.goals.money > 0.0
    assert days.audit.goals.money == pytest.approx(weeks.audit.goals.money, abs=0.005)


def test_without_the_setting_no_day_is_looked_at() -> None:
    program = build(two_days(1.5, counts_days=False)).program
    assert program.hours.days is None
    assert program.hours.supply.days is None


@pytest.mark.parametrize("seed", [0, 9, 12, 17])
def test_rows_of_days_hold_for_every_plan_and_say_what_a_choice_costs(seed: int) -> None:
    """The rows that some choices call for are kept by all others, and price those choices."""
    rng = Random(seed)
    of = with_levelling(every_rule_base(Random(seed)), Random(seed)).replace(counts_days=True)
    program = build(of).program
    some = [some_choice(program, rng) for _ in range(4)]
    form = money_form(program)
    for chosen in some[:2]:
        form = form.with_sets(form.days_lacking(chosen))
    for chosen in some:
        entries = form.entries_of(chosen)
        assert (form.matrix @ entries - form.row_upper).max() <= 1e-6
        assert float(form.cost @ entries) + form.offset == pytest.approx(
            program.cost(chosen)[1], rel=1e-6, abs=0.01
        )
    for chosen in some[:2]:
        kept = program.restricted_to(_is_in(chosen, program.size)).program
        own = kept.first_column[:-1].copy()
        own[kept.first_column[:-1] == kept.first_column[1:]] = -1
        held = replace(kept, days_allowed=kept.days_past(own), unplaced_past=_dear(kept, own))
        with_rows = money_form(held, form.sets)
        assert relax(with_rows) == pytest.approx(held.cost(own)[1], rel=1e-6, abs=0.01)


def _is_in(chosen, size: int):
    is_in = np.zeros(size, dtype=np.bool_)
    is_in[chosen[chosen >= 0]] = True
    return is_in


def _dear(program, own):
    return program.unplaced_past + (own >= 0) * 1000
