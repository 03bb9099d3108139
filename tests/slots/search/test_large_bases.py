"""Bases that are too large to be looked at together: in parts, with bounds that hold for all."""

import errno
import os
from dataclasses import replace
from random import Random
from typing import Any

import pytest

import capacity
from capacity import SearchSettings, Settings
from capacity.errors import TooLargeError
from capacity.facts import Base
from capacity.labour.available import available_hours
from capacity.labour.calendar import calendar_of
from capacity.plans.levelled import spread_evenly
from capacity.slots.candidates import Scope, days_apart, lay_out_checks, scope_for, slots_in
from capacity.slots.candidates.scope import EVERY_BAY
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.line import side_process
from capacity.slots.line.side_process import SideProcess
from capacity.slots.program import program
from capacity.slots.program.lane_order_program import course_program
from capacity.slots.program.linear_form import days_form, money_form
from capacity.slots.search import large_search
from tests.bench.invented import invented_quarter
from tests.quick_and_long import some_of
from tests.reference.levelled_bases import with_levelling, with_peak
from tests.slots.rich_bases import rich_base

SECONDS = 4.0


FEW_COLUMNS = SearchSettings(fewest_columns=150, columns_a_second=0)
"""With these a small base counts as a large one."""


def in_lanes_of_four(base: Base) -> Base:
    bays = tuple(
        replace(bay, reached_through=None if n % 4 == 0 else base.bays[n - 1].name)
        for n, bay in enumerate(base.bays)
    )
    return base.replace(bays=bays)


def small_lanes(seed: int) -> Base:
    return in_lanes_of_four(invented_quarter(seed, bays=8, checks=10, weeks=6))


def optimum(base: Base) -> tuple[int, float]:
    """Return the least days past, and the least money with them, proven over all candidates."""
    laid = lay_out_checks(base, calendar_of(base))
    supply = available_hours(base, laid.calendar)
    whole = program.build_program(slots_in(laid, EVERY_BAY), base, supply)
    days = round(branch_and_cut(days_form(whole), None, 30.0).bound)
    cheapest = branch_and_cut(money_form(whole.within_days(days).program), None, 30.0)
    assert cheapest.finished
    return days, cheapest.bound


def test_an_ordinary_base_is_looked_at_as_a_whole() -> None:
    for base in (invented_quarter(1), invented_quarter(1, lanes=True)):
        laid = lay_out_checks(base, calendar_of(base))
        assert days_apart(base, Settings(workers=2, seconds=1.0)) == 1
        assert scope_for(laid, Settings(workers=2, seconds=1.0)) is EVERY_BAY


@pytest.mark.parametrize("seed", some_of([1, 2], quick=1))
def test_a_large_base_gets_an_audited_plan_and_a_bound_that_holds(seed: int) -> None:
    base = in_lanes_of_four(invented_quarter(seed, bays=4, checks=4, weeks=3))
    days, money = optimum(base)
    few = replace(FEW_COLUMNS, fewest_columns=20)
    outcome = capacity.plan(base, Settings(workers=2, seconds=SECONDS, search=few))
    assert isinstance(outcome, capacity.Planned)
    assert capacity.audit(base, outcome.plan).broken == ()
    goals = outcome.audit.goals
    assert goals.days_past_latest_in >= days >= outcome.days_bound
    assert any("more slots than can be looked at together" in note.what for note in outcome.notes)
    assert outcome.bound is not None
    if goals.days_past_latest_in == days:
        assert outcome.bound <= money + 0.01
        assert goals.money >= money - 0.01


@pytest.mark.long
@pytest.mark.parametrize("seed", [1, 2])
def test_a_large_base_whose_hours_are_levelled_has_a_bound_that_holds(seed: int) -> None:
    """Its hours are the cheapest in its slots, and the bound is one of the whole base."""
    base = in_lanes_of_four(invented_quarter(seed, bays=4, checks=4, weeks=3))
    base = with_peak(base, 2.0, into_float=True)
    days, money = optimum(base)
    few = replace(FEW_COLUMNS, fewest_columns=20)
    settings = Settings(workers=2, seconds=SECONDS, search=few)
    outcome = capacity.plan(base, settings)
    assert isinstance(outcome, capacity.Planned)
    assert any("more slots than can be looked at together" in note.what for note in outcome.notes)
    found = capacity.audit(base, outcome.plan)
    assert found.broken == ()
    assert any(stage.hours for p in outcome.plan.placements for stage in p.stages)
    goals = outcome.audit.goals
    assert goals.days_past_latest_in >= days >= outcome.days_bound
    assert outcome.bound is not None
    if goals.days_past_latest_in == days:
        assert outcome.bound <= money + 0.01
        assert goals.money >= money - 0.01
    # The hours that are told are the cheapest in its slots: no dearer than spread evenly.
    assert goals.money <= capacity.audit(base, spread_evenly(outcome.plan)).goals.money + 0.01


@pytest.mark.parametrize("levelled", [False, True])
@pytest.mark.parametrize("seed", some_of([0, 1, 2, 4, 5], quick=3))
def test_the_courses_without_bays_are_a_relaxation(seed: int, levelled: bool) -> None:
    """Proven over all candidates and over the courses: the latter is never more, in both goals."""
    base = rich_base(Random(seed))
    if levelled:
        base = with_levelling(base, Random(seed))
    laid = lay_out_checks(base, calendar_of(base))
    supply = available_hours(base, laid.calendar)
    whole = program.build_program(slots_in(laid, EVERY_BAY), base, supply)
    courses = course_program(laid, base, supply)
    past = [branch_and_cut(days_form(one), None, 20.0) for one in (courses, whole)]
    assert past[0].bound <= past[1].bound + 1e-6
    if past[1].chosen is None:
        return
    days = whole.days_past(past[1].chosen)
    money = [
        branch_and_cut(money_form(replace(one, days_allowed=days)), None, 20.0)
        for one in (courses, whole)
    ]
    assert money[0].bound <= money[1].bound + 1e-4 * max(1.0, abs(money[1].bound))


def test_in_days_lie_apart_where_all_are_too_many() -> None:
    base = small_lanes(3)
    few = replace(FEW_COLUMNS, fewest_courses=60, courses_a_second=0)
    settings = Settings(workers=2, seconds=2, search=few)
    assert days_apart(base, settings) > 1
    outcome = capacity.plan(base, settings)
    assert isinstance(outcome, capacity.Planned)
    assert capacity.audit(base, outcome.plan).broken == ()
    assert any("days apart" in note.what for note in outcome.notes)
    assert outcome.bound is not None
    assert outcome.bound <= outcome.audit.goals.money


@pytest.mark.long
def test_it_goes_on_from_a_plan_and_is_never_worse() -> None:
    base = small_lanes(4)
    first = capacity.plan(base, Settings(workers=2, seconds=2, search=FEW_COLUMNS))
    assert isinstance(first, capacity.Planned)
    again = capacity.plan(
        base, Settings(workers=2, seconds=2, seed=9, search=FEW_COLUMNS), begin=first.plan
    )
    assert isinstance(again, capacity.Planned)
    before, after = first.audit.goals, again.audit.goals
    assert (after.days_past_latest_in, after.money) <= (
        before.days_past_latest_in,
        before.money + 1e-6,
    )


def starting(monkeypatch: pytest.MonkeyPatch, without: tuple[str, ...]) -> list[str]:
    """Let some sides not be started, and return the names of all that were to be."""
    asked: list[str] = []

    def start(side: str, *more: Any) -> SideProcess:
        asked.append(side)
        if side in without:
            raise OSError(errno.EAGAIN, os.strerror(errno.EAGAIN))
        return SideProcess(side, *more)

    monkeypatch.setattr(side_process, "SideProcess", start)
    return asked


@pytest.mark.parametrize("without", [("find", "prove"), ("find",), ("prove",)], ids="-".join)
def test_sides_that_cannot_be_started_leave_the_plan(
    without: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = starting(monkeypatch, without)
    base = small_lanes(3)
    seconds = 60.0 if len(without) == 2 else 2.0
    outcome = capacity.plan(base, Settings(workers=2, seconds=seconds, search=FEW_COLUMNS))
    assert isinstance(outcome, capacity.Planned)
    assert {*without} <= {*asked}
    assert capacity.audit(base, outcome.plan).broken == ()
    told = [note.what for note in outcome.notes if "it could not be started (" in note.what]
    assert len(told) == len(without)
    if len(without) == 2:
        assert outcome.stopped_by == "fault"
        assert outcome.seconds < seconds / 2


def test_a_side_that_breaks_down_is_not_started_again_and_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The sides are a program that ends at once."""
    asked = starting(monkeypatch, ())
    monkeypatch.setattr(side_process, "python_command", lambda *_: ["false"])
    outcome = capacity.plan(small_lanes(3), Settings(workers=2, seconds=60, search=FEW_COLUMNS))
    assert isinstance(outcome, capacity.Planned)
    assert outcome.stopped_by == "fault"
    assert sorted(asked) == ["find", "prove"]
    assert len(outcome.faults) == 2
    assert sum("ended early" in note.what for note in outcome.notes) == 2


def test_want_of_memory_leaves_the_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    def none_left(*more: object) -> None:
        raise MemoryError

    monkeypatch.setattr(large_search, "course_program", none_left)
    base = small_lanes(3)
    outcome = capacity.plan(base, Settings(workers=2, seconds=60, search=FEW_COLUMNS))
    assert isinstance(outcome, capacity.Planned)
    assert outcome.stopped_by == "fault"
    assert capacity.audit(base, outcome.plan).broken == ()
    assert any("not enough memory" in note.what for note in outcome.notes)


def test_what_is_beyond_is_refused_with_an_estimate() -> None:
    base = small_lanes(5)
    few = SearchSettings(fewest_courses=20, courses_a_second=1)
    with pytest.raises(TooLargeError, match="before the search begins, and about"):
        capacity.plan(base, Settings(workers=2, seconds=2, search=few))


def test_questions_refuse_what_memory_does_not_hold(monkeypatch: pytest.MonkeyPatch) -> None:
    base = small_lanes(6)
    monkeypatch.setattr(program, "MOST_COLUMNS", 100)
    with pytest.raises(TooLargeError, match="GiB of memory"):
        capacity.explain(base)


def test_a_scope_draws_the_same_bays_again_and_keeps_those_of_a_plan() -> None:
    base = small_lanes(7)
    laid = lay_out_checks(base, calendar_of(base))
    own = {check.name: frozenset({base.bays[-1].name}) for check in base.checks}
    for scope in (Scope(2, 1), Scope(2, 1, own)):
        one, other = slots_in(laid, scope), slots_in(laid, scope)
        for a, b, courses in zip(one.candidates, other.candidates, laid.movable, strict=True):
            assert (a.groups == b.groups).all()
            assert len({*a.groups[:, 0]}) <= 2
            last = len(laid.groups) - 1
            could = courses.check.name in laid.groups[last].fits
            if scope.own is not None and could:
                assert last in {*a.groups[:, 0]}
