"""The optimum of levelled man-hours from a second solution, and what must hold of any.

Source: ``scipy.optimize.milp`` over all courses in plain dates, every skill of every stage with
hours of its own by week (work content, bounds on its intensity and a window, as in the resource-
constrained project scheduling problem with flexible resource profiles: Naber and Kolisch, MIP
models for resource-constrained project scheduling with flexible resource profiles, 2014 - the
model from memory). The package adds the limits up over all stages instead.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from random import Random

import pytest

import capacity
from capacity.facts import Base, DoneHours, WorkDone
from capacity.plans.plan import Plan
from capacity.slots.candidates import ways
from tests.quick_and_long import some_of
from tests.reference.every_rule_bases import every_rule_base
from tests.reference.every_rule_program import best_with_every_rule
from tests.reference.levelled_bases import with_levelling, with_peak
from tests.reference.random_bases import small_base
from tests.reference.stories import proven

SEEDS = (0, 8, 9, 12, 17, 31, 43, 62, 84)


@pytest.fixture(autouse=True)
def all_ways(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have all ways tried also of a check with hundreds, as the second solution does."""
    monkeypatch.setattr(ways, "MOST_WAYS", 1000)


@pytest.mark.parametrize("seed", some_of(SEEDS, quick=4))
def test_a_second_solution_finds_the_same_levelled_optimum(seed: int) -> None:
    base = with_levelling(every_rule_base(Random(seed)), Random(seed))
    best = best_with_every_rule(base)
    if best is None:
        assert isinstance(capacity.plan(base), capacity.Impossible)
        return
    planned = proven(base)
    assert planned.audit.goals.days_past_latest_in == best[0]
    assert planned.audit.goals.money == pytest.approx(best[1], rel=2e-6, abs=0.01)
    assert not planned.audit.broken


@pytest.mark.parametrize("seed", some_of(SEEDS, quick=3))
def test_a_second_solution_finds_the_same_optimum_of_what_is_left(seed: int) -> None:
    """Some hours of each check lie in weeks that are over, more or fewer than it now asks."""
    rng = Random(seed)
    base = with_levelling(every_rule_base(Random(seed)), Random(seed))
    if best_with_every_rule(base) is None:
        return
    base = base.replace(work_done=tuple(some_done(proven(base).plan, base, rng)))
    best = best_with_every_rule(base)
    assert best is not None
    planned = proven(base)
    assert planned.audit.goals.days_past_latest_in == best[0]
    assert planned.audit.goals.money == pytest.approx(best[1], rel=2e-6, abs=0.01)
    assert not planned.audit.broken


def some_done(plan: Plan, base: Base, rng: Random) -> Iterator[WorkDone]:
    """Yield what is done of some stages, by chance; of each it is told for weeks from its first."""
    for placement in plan.placements:
        for stage in placement.stages:
            monday = stage.first - timedelta(days=stage.first.weekday())
            before = stage.first + timedelta(days=rng.randint(1, 12))
            weeks = [monday + timedelta(days=7 * n) for n in range(3)]
            hours = tuple(
                DoneHours(skill.name, week, rng.choice((0.0, 3.0, 8.0, 40.0)))
                for skill in base.skills
                for week in weeks
                if base.first_day - timedelta(days=6) <= week < before
            )
            if rng.random() < 0.7:
                yield WorkDone(placement.check, stage.stage, stage.first, before, hours)


@pytest.mark.parametrize("seed", some_of(range(4), quick=2))
def test_more_levelling_never_makes_the_optimum_dearer(seed: int) -> None:
    base = small_base(Random(seed))
    ways_to_level = [(1.0, False), (1.25, False), (1.25, True), (2.0, True), (4.0, True)]
    costs = [
        proven(with_peak(base, peak, into_float=into_float)).audit.goals
        for peak, into_float in ways_to_level
    ]
    past = [goals.days_past_latest_in for goals in costs]
    money = [goals.money for goals in costs]
    assert len(set(past)) == 1, past
    for less, more in pairwise(money):
        assert more <= less + 0.01, money


def test_levelling_saves_something_somewhere() -> None:
    """The test before could not fail if no base had anything to level."""
    saved = [
        proven(base := small_base(Random(seed))).audit.goals.money
        - proven(with_peak(base, 4.0, into_float=True)).audit.goals.money
        for seed in range(4)
    ]
    assert max(saved) > 1.0


@pytest.mark.parametrize("seed", range(3))
def test_no_peak_and_no_float_is_the_plan_without_levelling(seed: int) -> None:
    base = small_base(Random(seed))
    assert with_peak(base, 1.0) == base
    plain = proven(base)
    assert not any(stage.hours for p in plain.plan.placements for stage in p.stages)


@pytest.mark.parametrize("seed", range(2))
def test_prices_times_ten_and_whole_weeks_later_change_nothing_else(seed: int) -> None:
    base = with_levelling(small_base(Random(seed)), Random(seed)).replace(holidays=None)
    cost = proven(base).audit.goals.money
    assert proven(_times(base, 10.0)).audit.goals.money == pytest.approx(10 * cost, abs=0.1)
    assert proven(_later(base, 4)).audit.goals.money == pytest.approx(cost, abs=0.01)


@pytest.mark.parametrize("seed", range(4))
def test_the_hours_of_a_stage_add_up_to_its_own(seed: int) -> None:
    base = with_levelling(small_base(Random(seed)), Random(seed))
    planned = proven(base)
    packages = {package.name: package for package in base.packages}
    for placement in planned.plan.placements:
        check = base.check(placement.check)
        if check.remaining is not None or placement.in_day < base.first_day:
            continue
        stages = {stage.name: stage for stage in packages[check.package].stages}
        for stated in placement.stages:
            if not stated.hours:
                continue
            stage = stages[stated.stage]
            growth = 1 + stage.findings * check.findings_factor
            for skill, hours in stage.man_hours.items():
                told = sum(one.hours for one in stated.hours if one.skill == skill)
                assert told == pytest.approx(hours * growth, abs=1e-6)


def _times(base: Base, factor: float) -> Base:
    return base.replace(
        overload_cost=base.overload_cost * factor,
        skills=tuple(
            replace(
                skill,
                overtime_cost=skill.overtime_cost * factor,
                contract_cost=skill.contract_cost * factor,
            )
            for skill in base.skills
        ),
        checks=tuple(
            replace(
                check,
                early_cost_per_day=check.early_cost_per_day * factor,
                late_cost_per_day=check.late_cost_per_day * factor,
                price=check.price * factor,
            )
            for check in base.checks
        ),
    )


def _later(base: Base, weeks: int) -> Base:
    """Move everything by whole weeks; a base without public holidays stays what it is."""
    by = timedelta(days=7 * weeks)
    return base.replace(
        first_day=base.first_day + by,
        checks=tuple(
            replace(
                check,
                **{
                    name: None if getattr(check, name) is None else getattr(check, name) + by
                    for name in ("earliest_in", "latest_in", "wanted_in", "agreed_out", "fixed_in")
                },
            )
            for check in base.checks
        ),
        crews=tuple(replace(c, starts_cycle_on=c.starts_cycle_on + by) for c in base.crews),
        closures=tuple(replace(c, first=c.first + by, last=c.last + by) for c in base.closures),
        absences=tuple(replace(a, first=a.first + by, last=a.last + by) for a in base.absences),
    )
