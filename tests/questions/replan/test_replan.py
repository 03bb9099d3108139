"""Re-plans that can be worked out on paper, and what must hold for any."""

from dataclasses import replace
from datetime import timedelta
from itertools import pairwise, product
from random import Random
from typing import Any

import numpy as np
import pytest

import capacity
from capacity import InputError, Settings
from capacity.facts import Base, Check, Closure, Package, Stage, Status
from capacity.plans.audit import Auditor, audit
from capacity.plans.outcome import Impossible
from capacity.plans.plan import Plan
from capacity.questions.replan.move_costs import MoveCosts
from capacity.questions.replan.replanning import replan
from capacity.questions.replan.values import Cause, Replanned, What
from tests.questions.asking_about import any_plan, planned
from tests.quick_and_long import some_of
from tests.reference import stories
from tests.reference.random_bases import small_base
from tests.reference.stories import bays, day, visit
from tests.slots.rich_bases import rich_base

QUICK = Settings(seconds=20)
THE_DAY_BEFORE = -1
"""Of the first day: what comes in then may still be moved."""
# Only days count, and each the same.
PLAIN = MoveCosts(day_booked=10.0, day_option=10.0, bay=1.0, pace=1.0, near=0.0, third_party=1.0)


def plan_of(base: Base) -> Plan:
    plan = planned(base)
    assert plan is not None
    return plan


def replanned(base: Base, plan: Plan, today: int = 0, **changes: Any) -> Replanned:
    answer = replan(base, plan, day(today), QUICK, **{"move_costs": PLAIN, **changes})
    assert isinstance(answer, Replanned)
    return answer


def in_days(plan: Plan) -> dict[str, int]:
    return {p.check: (p.in_day - day(0)).days for p in plan.placements}


@pytest.mark.parametrize("later_days", [0, 6])
@pytest.mark.parametrize(
    ("kind", "seed"),  # proven to be the best within a second
    [*((small_base, seed) for seed in (0, 1, 2, 4)), *((rich_base, seed) for seed in (0, 1, 4, 9))],
)
def test_with_nothing_changed_nothing_changes(kind: Any, seed: int, later_days: int) -> None:
    base = kind(Random(seed))
    today = base.first_day + timedelta(days=later_days)
    # What is left of a check is as it was told for the plan before: counted from today too.
    base = base.replace(work_counts_from=today)
    plan = planned(base, seconds=20)
    if plan is None:
        return
    answer = replan(base, plan, today, QUICK)
    assert isinstance(answer, Replanned)
    assert answer.changes == ()
    assert answer.found.move_price == 0.0
    assert set(answer.plan.placements) == set(plan.placements)
    assert answer.found.money == pytest.approx(audit(base, plan).goals.money, abs=0.01)


@pytest.mark.parametrize("seed", some_of(range(8), quick=4))
def test_what_has_begun_stays_and_nobody_else_comes_in_before_today(seed: int) -> None:
    rng = Random(300 + seed)
    base = rich_base(rng)
    plan = any_plan(base)
    if plan is None:
        return
    today = base.first_day + timedelta(days=rng.randint(1, 6))
    late = tuple(replace(c, latest_in=c.latest_in + timedelta(days=4)) for c in base.checks[1:])
    added = replace(base.checks[-1], name="New", status=Status.BOOKED, price=0.0, remaining=None)
    changed = base.replace(checks=(base.checks[0], *late, replace(added, latest_in=day(16))))
    answer = replan(changed, plan, today, Settings(seconds=3))
    if isinstance(answer, Impossible):  # work goes on from today where a piece is out of use
        assert all("C0" in sentence and "equipment" in sentence for sentence in answer.why)
        return
    old = {(p.check, p.bay, p.in_day) for p in plan.placements if p.in_day < today}
    firsts: dict[str, Any] = {}
    for placement in answer.plan.placements:
        firsts.setdefault(placement.check, placement)
    for name, first in firsts.items():
        assert first.in_day >= today or name in answer.begun
        if first.in_day < today:
            assert (name, first.bay, first.in_day) in old
    found = Auditor(answer.base).audit(answer.plan, answer.kept.audit)
    assert found.broken == ()
    assert found == answer.found.audit
    total, kept = (one.money + one.move_price for one in (answer.found, answer.kept))
    assert (answer.found.days_past, total) <= (answer.kept.days_past, kept + 0.01)
    assert sum(change.move_price for change in answer.changes) == pytest.approx(
        answer.found.move_price
    )


@pytest.mark.parametrize(("price", "moves"), [(9.0, True), (11.0, False)])
def test_a_move_is_made_when_it_saves_more_than_its_price(price: float, moves: bool) -> None:
    # B stood three days early for A, which is cancelled: 10 a day to be saved.
    a, b = visit("A", 3, 3, 3), visit("B", 3, 0, 3, early_cost_per_day=10.0)
    plan = plan_of(stories.base(bays(1), a, b))
    assert in_days(plan) == {"A": 3, "B": 0}
    costs = replace(PLAIN, day_booked=price)
    answer = replanned(stories.base(bays(1), b), plan, THE_DAY_BEFORE, move_costs=costs)
    assert in_days(answer.plan) == {"B": 3 if moves else 0}
    assert answer.kept.money == pytest.approx(30.0)
    assert answer.saved == pytest.approx(30.0 if moves else 0.0)
    assert answer.found.move_price == pytest.approx(3 * price if moves else 0.0)
    by_check = {change.check: change for change in answer.changes}
    assert by_check["A"].what == (What.CANCELLED,)
    if moves:
        change = by_check["B"]
        assert (change.what, change.days_moved) == ((What.DAY,), 3)
        assert change.why[0].cause is Cause.CHEAPER
        assert change.why[0].money == pytest.approx(30.0)
        assert change.move_price == pytest.approx(3 * price)


def test_who_slips_and_whom_it_displaces_is_told() -> None:
    a, b = visit("A", 5, 0, 0), visit("B", 5, 5, 9)
    plan = plan_of(stories.base(bays(1), a, b))
    slipped = replace(a, earliest_in=day(4), latest_in=day(4))
    answer = replanned(stories.base(bays(1), slipped, b), plan)
    assert in_days(answer.plan) == {"A": 4, "B": 9}
    first, second = answer.changes
    assert (first.check, first.days_moved) == ("A", 4)
    assert (first.why[0].cause, first.why[0].days) == (Cause.SLIPPED, 4)
    assert (second.check, second.days_moved) == ("B", 4)
    assert (second.why[0].cause, second.why[0].by) == (Cause.DISPLACED, ("A",))
    assert answer.found.move_price == pytest.approx(80.0)


def test_one_that_grows_in_work_displaces_the_next() -> None:
    a, b = visit("A", 5, 0, 0), visit("B", 5, 5, 9)
    old = stories.base(bays(1), a, b)
    plan = plan_of(old)
    hours = Package("5 days", (Stage("Work", "maintenance", 7, {"Mechanic": 1.0}),))
    others = tuple(package for package in old.packages if package.name != "5 days")
    grown = old.replace(packages=(hours, *others), checks=(a, replace(b, package="4 days")))
    answer = replanned(grown, plan, old_base=old)
    first, second = answer.changes
    assert (first.check, first.what) == ("A", (What.STAGES,))
    assert (first.why[0].cause, first.why[0].days, first.why[0].man_hours) == (Cause.GREW, 2, 1.0)
    assert (second.check, second.days_moved) == ("B", 2)
    assert second.why[0].cause is Cause.SHRANK


def test_new_and_given_up_checks_are_told() -> None:
    option = visit("O", 5, 0, 0, status=Status.OPTION, price=50.0)
    plan = plan_of(stories.base(bays(1), option))
    base = stories.base(bays(1), option, visit("N", 5, 2, 2))
    answer = replanned(base, plan, THE_DAY_BEFORE, move_costs=replace(PLAIN, given_up=500.0))
    assert [(c.check, c.what) for c in answer.changes] == [
        ("O", (What.UNPLACED,)),
        ("N", (What.NEW,)),
    ]
    given_up = answer.changes[0]
    assert (given_up.why[0].cause, given_up.why[0].by) == (Cause.DISPLACED, ("N",))
    assert given_up.move_price == pytest.approx(500.0) == answer.found.move_price


@pytest.mark.parametrize(("given_up", "kept"), [(400.0, False), (600.0, True)])
def test_an_accepted_option_is_given_up_for_more_than_its_price(
    given_up: float, kept: bool
) -> None:
    one, other = (
        visit(name, 5, 0, 0, status=Status.OPTION, price=price)
        for name, price in (("O", 1000.0), ("P", 1500.0))
    )
    plan = plan_of(stories.base(bays(1), one))
    base = stories.base(bays(1), one, other)
    answer = replanned(base, plan, THE_DAY_BEFORE, move_costs=replace(PLAIN, given_up=given_up))
    assert set(in_days(answer.plan)) == ({"O"} if kept else {"P"})


def test_days_past_latest_in_count_before_any_move_price() -> None:
    # A stands in B's only lawful days, and is moved at whatever price.
    a, b = visit("A", 5, 0, 9, early_cost_per_day=1.0), visit("B", 5, 9, 9)
    plan = plan_of(stories.base(bays(1), a))
    assert in_days(plan) == {"A": 9}
    held = replace(PLAIN, day_booked=1e6)
    answer = replanned(stories.base(bays(1), a, b), plan, move_costs=held)
    assert answer.found.days_past == 0
    assert in_days(answer.plan) == {"A": 4, "B": 9}
    assert answer.kept.days_past == answer.days_past_saved == 5
    assert {c.check: c.why[0].cause for c in answer.changes} == {
        "A": Cause.DISPLACED,
        "B": Cause.NEW,
    }


def test_a_closed_bay_sends_the_check_to_another() -> None:
    a = visit("A", 5, 0, 4)
    plan = plan_of(stories.base(bays(2), a))
    (old,) = plan.placements
    closed = stories.base(bays(2), a).replace(closures=(Closure(old.bay, day(0), day(60)),))
    answer = replanned(closed, plan)
    (change,) = answer.changes
    assert (change.what, change.days_moved) == ((What.BAY,), 0)
    assert change.why[0].cause is Cause.PLACE_GONE
    assert change.move_price == pytest.approx(1.0)


def test_who_is_in_cannot_stand_in_a_closed_bay() -> None:
    a = visit("A", 5, 0, 0)
    plan = plan_of(stories.base(bays(1), a))
    closed = stories.base(bays(1), a).replace(closures=(Closure("B1", day(2), day(60)),))
    answer = replan(closed, plan, day(1), QUICK)
    assert isinstance(answer, Impossible)
    assert "A is in already" in answer.why[0]


def test_who_did_not_come_is_planned_anew_from_today_on() -> None:
    a = visit("A", 5, 0, 0)
    plan = plan_of(stories.base(bays(1), a))
    late = replace(a, earliest_in=day(1), latest_in=day(8))
    answer = replanned(stories.base(bays(1), late), plan, today=4)
    assert answer.begun == ()
    assert in_days(answer.plan) == {"A": 4}


def test_who_came_in_before_the_first_day_is_fixed() -> None:
    earlier = stories.base(bays(1), visit("A", 9, 0, 3), visit("B", 5, 9, 12))
    plan = plan_of(earlier)
    started = in_days(plan)["A"]
    base = earlier.replace(first_day=day(5))
    answer = replanned(base, plan, today=5)
    assert answer.begun == ("A",)
    fixed = next(check for check in answer.base.checks if check.name == "A")
    assert (fixed.status, fixed.fixed_in) == (Status.FIXED, day(started))
    assert answer.changes == ()


def test_a_fixed_check_is_told_by_what_the_base_says_of_it() -> None:
    plan = plan_of(stories.base(bays(2), stories.fixed("F", 5, 0, "B1")))
    elsewhere = replanned(stories.base(bays(2), stories.fixed("F", 5, 2, "B2")), plan)
    (change,) = elsewhere.changes
    assert (change.what, change.days_moved) == ((What.DAY, What.BAY), 2)
    assert [reason.cause for reason in change.why] == [Cause.FIXED]
    longer = replanned(stories.base(bays(2), stories.fixed("F", 8, 0, "B1")), plan)
    (change,) = longer.changes
    assert change.what == (What.STAGES,)
    assert [(reason.cause, reason.days) for reason in change.why] == [(Cause.GREW, 3)]


def test_an_option_that_has_begun_keeps_its_price() -> None:
    option = visit("O", 5, 0, 0, status=Status.OPTION, price=50.0)
    base = stories.base(bays(1), option)
    answer = replanned(base, plan_of(base), today=2)
    assert answer.begun == ("O",)
    assert answer.found.money == pytest.approx(-50.0)


@pytest.mark.parametrize("seed", range(6))
def test_no_arrangement_is_better_whatever_the_days(seed: int) -> None:
    """One bay, three checks: all in days tried, with early days and move prices by hand."""
    rng = Random(seed)

    def checks() -> list[Check]:
        return [
            visit(
                name,
                rng.randint(2, 5),
                first := rng.randint(0, 4),
                first + 8,
                early_cost_per_day=float(rng.randint(0, 20)),
                third_party=rng.random() < 0.5,
            )
            for name in "ABC"
        ]

    costs = MoveCosts(day_booked=15.0, bay=0.0, pace=0.0, third_party=2.0, near=1.5, near_days=10)
    plan = plan_of(stories.base(bays(1), *checks()))
    old, now = in_days(plan), checks()
    answer = replan(stories.base(bays(1), *now), plan, day(0), QUICK, move_costs=costs)
    assert isinstance(answer, Replanned)
    if answer.found.days_past:
        return
    totals = []
    for days in product(*(range((c.latest_in - day(0)).days + 1) for c in now)):
        spans = sorted(
            (start, start + int(c.package.split()[0])) for start, c in zip(days, now, strict=True)
        )
        apart = all(a[1] <= b[0] for a, b in pairwise(spans))
        if not apart or any(day(s) < c.earliest_in for s, c in zip(days, now, strict=True)):
            continue
        total = 0.0
        for start, c in zip(days, now, strict=True):
            total += ((c.latest_in - day(start)).days) * c.early_cost_per_day
            near = max(0.0, 1 - min(start, old[c.name]) / 10)
            weight = (2.0 if c.third_party else 1.0) * (1 + 1.5 * near)
            total += weight * 15.0 * abs(start - old[c.name])
        totals.append(total)
    assert answer.found.money + answer.found.move_price == pytest.approx(min(totals), abs=0.01)
    assert answer.bound == pytest.approx(min(totals), abs=0.01)


@pytest.mark.parametrize(
    ("ahead", "third_party", "weight"),
    [(0, False, 4.0), (14, False, 2.5), (28, False, 1.0), (90, False, 1.0), (0, True, 8.0)],
)
def test_a_move_close_at_hand_weighs_more(ahead: int, third_party: bool, weight: float) -> None:
    check = visit("A", 5, 0, 0, third_party=third_party)
    costs = MoveCosts(near=3.0, near_days=28, third_party=2.0)
    assert costs.weight(check, np.array([ahead])) == pytest.approx(weight)


def test_prices_below_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="bay is -1"):
        MoveCosts(bay=-1.0)


def test_a_day_past_the_plan_is_refused() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 0))
    with pytest.raises(InputError, match="today"):
        replan(base, plan_of(base), day(700))


def test_a_bay_in_which_somebody_is_cannot_be_left_out() -> None:
    base = stories.base(bays(2), visit("A", 5, 0, 0))
    plan = plan_of(base)
    moved = replace(plan, placements=(replace(plan.placements[0], bay="B9"),))
    with pytest.raises(InputError, match="a bay that the base does not have"):
        replan(base, moved, day(2))


def test_the_answer_is_a_plan_of_its_base() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 0))
    answer = replanned(base, plan_of(base))
    assert capacity.audit(answer.base, answer.plan).broken == ()
    assert answer.stopped_by == "proof"
    assert answer.gap == 0.0
