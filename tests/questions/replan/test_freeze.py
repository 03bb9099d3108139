"""What is due within the freeze window stays, by hand and for any base."""

from dataclasses import replace
from datetime import timedelta
from itertools import combinations
from random import Random
from typing import Any

import pytest

from capacity import Settings, SettingsError
from capacity.facts import Base, Check, Closure, Package, Stage, Status
from capacity.plans.held_slots import called_in, moved_visits
from capacity.plans.outcome import Impossible
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.questions.replan.move_costs import MoveCosts
from capacity.questions.replan.replanning import replan
from capacity.questions.replan.values import Cause, Replanned
from tests.bases import BAY
from tests.questions.asking_about import any_plan, planned
from tests.quick_and_long import some_of
from tests.reference import stories
from tests.reference.stories import bays, day, visit
from tests.slots.rich_bases import rich_base

QUICK = Settings(seconds=10)
PLAIN = MoveCosts(day_booked=10.0, day_option=10.0, bay=1.0, pace=1.0, near=0.0, third_party=1.0)


def plan_of(base: Base) -> Plan:
    plan = planned(base)
    assert plan is not None
    return plan


def replanned(base: Base, plan: Plan, today: int, freeze_days: int, **more: Any) -> Replanned:
    answer = replan(
        base, plan, day(today), QUICK, freeze_days=freeze_days, **{"move_costs": PLAIN, **more}
    )
    assert isinstance(answer, Replanned)
    return answer


def told(check: str, bay: str, first: int, until: int) -> Placement:
    """A visit of one stage, as a plan states it."""
    stage = StageDays("Work", day(first), day(until))
    return Placement(check, bay, "Work", day(first), day(until), (stage,))


def in_days(plan: Plan) -> dict[str, int]:
    return {p.check: (p.in_day - day(0)).days for p in plan.placements}


def broken(answer: Replanned) -> dict[str, list[Cause]]:
    return {hold.check: [reason.cause for reason in hold.why] for hold in answer.freeze.broken}


@pytest.mark.parametrize(("freeze_days", "moves"), [(4, True), (5, False)])
def test_what_is_due_within_the_window_stays_though_moving_saves(
    freeze_days: int, moves: bool
) -> None:
    # B came in on day 5 for A, which is cancelled; each day later saves 100 and counts as 10.
    b = visit("B", 3, 5, 8, early_cost_per_day=100.0)
    plan = plan_of(stories.base(bays(1), visit("A", 3, 8, 8), b))
    assert in_days(plan) == {"A": 8, "B": 5}
    answer = replanned(stories.base(bays(1), b), plan, 0, freeze_days)
    assert in_days(answer.plan) == {"B": 8 if moves else 5}
    assert answer.freeze.held == (() if moves else ("B",))
    assert answer.freeze.broken == ()
    assert answer.freeze.last == day(freeze_days)


def test_todays_arrival_stays_without_being_asked() -> None:
    b = visit("B", 3, 0, 8, early_cost_per_day=100.0)
    before = Plan((told("B", "B1", 0, 3),))
    answer = replanned(stories.base(bays(1), b), before, 0, 0)
    assert in_days(answer.plan) == {"B": 0}
    assert answer.freeze.held == ("B",)


def test_nobody_is_called_in_within_the_window_that_was_told_to_come_later() -> None:
    # Late out costs 100 a day: B would come in today in the bay that A has left.
    b = visit("B", 3, 0, 8, agreed_out=day(3), late_cost_per_day=100.0)
    plan = Plan((told("B", "B1", 4, 7),))
    for freeze_days, first in ((0, 1), (2, 3), (3, 4)):
        answer = replanned(stories.base(bays(1), b), plan, 0, freeze_days)
        assert in_days(answer.plan) == {"B": first}
        assert not answer.freeze.broken


def test_who_has_no_slot_of_its_own_any_more_may_come_in_within_the_window() -> None:
    b = visit("B", 3, 0, 2)  # its last day was 4 and is 2 now
    plan = Plan((told("B", "B1", 4, 7),))
    answer = replanned(stories.base(bays(1), b), plan, 0, 3)
    assert in_days(answer.plan) == {"B": 2}


def test_the_window_goes_before_days_past_latest_in() -> None:
    # N has to be in by day 2; A, due on day 1, could wait but was told to come.
    a, n = visit("A", 4, 0, 20), visit("N", 3, 1, 2)
    plan = Plan((told("A", "B1", 1, 5),))
    held = replanned(stories.base(bays(1), a, n), plan, 0, 3)
    assert in_days(held.plan) == {"A": 1, "N": 5}
    assert held.found.days_past == 3
    free = replanned(stories.base(bays(1), a, n), plan, 0, 0)
    assert free.found.days_past == 0


def test_a_late_aircraft_cannot_stay_and_the_reason_is_its_window() -> None:
    late, b = visit("A", 3, 4, 20), visit("B", 3, 5, 5)
    plan = Plan(
        (
            told("A", "B1", 2, 5),
            told("B", "B1", 5, 8),
        )
    )
    answer = replanned(stories.base(bays(1), late, b), plan, 0, 7)
    assert broken(answer) == {"A": [Cause.SLIPPED]}
    assert answer.freeze.held == ("B",)
    assert in_days(answer.plan) == {"A": 8, "B": 5}
    (change,) = answer.changes
    assert change.why == answer.freeze.broken[0].why


def test_as_few_as_can_be_move_when_the_bay_of_one_is_closed() -> None:
    a, b, c = visit("A", 3, 0, 20), visit("B", 3, 0, 20), visit("C", 3, 0, 20)
    plan = Plan(
        (
            told("A", "B1", 1, 4),
            told("B", "B2", 1, 4),
            told("C", "B2", 4, 7),
        )
    )
    base = stories.base(bays(2), a, b, c).replace(closures=(Closure("B1", day(2), day(3)),))
    answer = replanned(base, plan, 0, 7)
    assert broken(answer) == {"A": [Cause.PLACE_GONE]}
    assert answer.freeze.held == ("B", "C")


def test_who_grew_holds_and_the_next_gives_way() -> None:
    # A is longer by two days and B, the next in its bay, due too: one of them must move.
    a, b = visit("A", 6, 0, 20), visit("B", 3, 0, 20)
    plan = Plan(
        (
            told("A", "B1", 1, 5),
            told("B", "B1", 5, 8),
        )
    )
    answer = replanned(stories.base(bays(1), a, b), plan, 0, 7)
    assert len(answer.freeze.held) == len(answer.freeze.broken) == 1
    (hold,) = answer.freeze.broken
    assert hold.why[0].cause is Cause.DISPLACED
    assert hold.why[0].by == answer.freeze.held


def test_one_past_its_latest_in_is_not_kept_there() -> None:
    a = visit("A", 3, 0, 3)
    plan = Plan((told("A", "B1", 5, 8),))
    answer = replanned(stories.base(bays(1), a), plan, 0, 7)
    assert in_days(answer.plan)["A"] <= 3
    (hold,) = answer.freeze.broken
    assert (hold.why[0].cause, hold.why[0].days) == (Cause.PAST_LATEST_IN, 2)


def test_an_option_due_is_not_given_up_for_a_better_one() -> None:
    a = visit("A", 3, 1, 1, status=Status.OPTION, price=10.0)
    b = visit("B", 3, 1, 1, status=Status.OPTION, price=99_000.0)
    plan = Plan((told("A", "B1", 1, 4),), refused=("B",))
    answer = replanned(stories.base(bays(1), a, b), plan, 0, 1)
    assert in_days(answer.plan) == {"A": 1}
    assert in_days(replanned(stories.base(bays(1), a, b), plan, 0, 0).plan) == {"B": 1}


def test_an_option_not_taken_is_not_called_in_within_the_window() -> None:
    a = visit("A", 3, 1, 8, status=Status.OPTION, price=100.0, early_cost_per_day=1.0)
    b = replace(a, name="B", latest_in=day(2))
    plan = Plan((), refused=("A", "B"))
    answer = replanned(stories.base(bays(1), a, b), plan, 0, 5)
    assert in_days(answer.plan) == {"A": 8}
    new = replanned(stories.base(bays(2), a, b), Plan((), refused=("A",)), 0, 5)
    assert in_days(new.plan) == {"A": 8, "B": 2}


def test_who_is_in_is_never_given_up_for_one_that_is_due() -> None:
    # A is in until day 6 now, and the bay has no other day for B than those.
    a, b = visit("A", 6, 0, 0), visit("B", 2, 4, 4)
    plan = Plan(
        (
            told("A", "B1", 0, 4),
            told("B", "B1", 4, 6),
        )
    )
    answer = replanned(stories.base(bays(1), a, b), plan, 2, 5)
    assert in_days(answer.plan) == {"A": 0, "B": 6}
    assert broken(answer) == {"B": [Cause.DISPLACED]}
    assert answer.freeze.broken[0].why[0].by == ("A",)


def test_a_move_to_the_next_bay_that_is_due_stays_too() -> None:
    # A is in since day 0, and goes to the paint bay on day 3; from there it would be out on
    # day 5 at the latest with a day of waiting, which costs nothing.
    paint = replace(BAY, name="P1", work=frozenset({"paint"}))
    stages = (Stage("Work", "maintenance", 3), Stage("Paint", "paint", 2))
    a = visit("A", 5, 0, 0, package="painted")
    b = visit("B", 2, 3, 3, package="paint only")
    usual = stories.base((*bays(1), paint), a, b)
    base = usual.replace(
        packages=(
            Package("painted", stages),
            Package("paint only", (Stage("Paint", "paint", 2),)),
        )
    )
    plan = Plan(
        (
            Placement("A", "B1", "Work", day(0), day(3), (StageDays("Work", day(0), day(3)),)),
            Placement("A", "P1", "Paint", day(3), day(5), (StageDays("Paint", day(3), day(5)),)),
        )
    )
    # B must be in by day 3. Without the window A waits for it for two days in its bay.
    free = replanned(base, plan, 1, 0)
    assert free.found.days_past == 0
    held = replanned(base, plan, 1, 4)
    assert held.freeze.held == ("A",)
    assert held.found.days_past == 2
    assert [(p.bay, p.in_day) for p in held.plan.by_check()["A"]] == [
        ("B1", day(0)),
        ("P1", day(3)),
    ]


@pytest.mark.parametrize("seed", range(12))
def test_no_fewer_holds_could_be_broken(seed: int) -> None:
    """Against all subsets of those due: visits of one stage conflict where bay and days overlap."""
    rng = Random(40 + seed)
    slots = [(f"B{rng.randint(1, 2)}", rng.randint(1, 6), rng.randint(1, 4)) for _ in range(7)]
    checks = [visit(f"C{n}", days, 0, 40) for n, (_, _, days) in enumerate(slots)]
    plan = Plan(
        tuple(told(f"C{n}", bay, first, first + 1) for n, (bay, first, _) in enumerate(slots))
    )
    answer = replanned(stories.base(bays(2), *checks), plan, 0, 7)

    def go_together(chosen: tuple[int, ...]) -> bool:
        taken = [(slots[n][0], d) for n in chosen for d in range(slots[n][1], sum(slots[n][1:]))]
        return len(set(taken)) == len(taken)

    most = max(
        size
        for size in range(len(slots) + 1)
        if any(go_together(chosen) for chosen in combinations(range(len(slots)), size))
    )
    assert len(answer.freeze.held) == most
    assert len(answer.freeze.broken) == len(slots) - most


@pytest.mark.parametrize("seed", some_of(range(6), quick=3))
def test_only_who_cannot_stay_moves_in_any_base(seed: int) -> None:
    rng = Random(700 + seed)
    base = rich_base(rng)
    plan = any_plan(base)
    if plan is None:
        return
    today, days = base.first_day + timedelta(days=rng.randint(0, 4)), rng.randint(0, 9)
    last = today + timedelta(days=days)
    changed = base.replace(checks=tuple(_shaken(check, rng) for check in base.checks))
    answer = replan(changed, plan, today, Settings(seconds=2), freeze_days=days)
    if isinstance(answer, Impossible):
        return
    told = {hold.check for hold in answer.freeze.broken}
    fixed = {check.name for check in changed.checks if check.status is Status.FIXED}
    assert set(moved_visits(plan, answer.plan, today, last)) - fixed == told
    assert not told & set(answer.freeze.held)
    assert all(hold.why for hold in answer.freeze.broken)
    here = {check.name: check for check in changed.checks}
    for name in called_in(plan, answer.plan, today, last):
        before = plan.by_check()[name][0]
        assert here[name].latest_in < before.in_day or name in fixed or _gone(answer, name)


def _gone(answer: Replanned, name: str) -> bool:
    (change,) = (change for change in answer.changes if change.check == name)
    return bool(change.why)


def _shaken(check: Check, rng: Random) -> Check:
    if check.status is Status.FIXED or rng.random() < 0.6:
        return check
    by = timedelta(days=rng.randint(-3, 4))
    return replace(check, earliest_in=check.earliest_in + by, latest_in=check.latest_in + by)


@pytest.mark.parametrize("days", [-1, 2.5, True, 367])
def test_a_window_that_is_none_is_refused(days: Any) -> None:
    with pytest.raises(SettingsError, match="freeze_days"):
        replan(stories.base(bays(1)), Plan(()), day(0), QUICK, freeze_days=days)
