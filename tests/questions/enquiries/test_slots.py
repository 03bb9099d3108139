"""Places of an enquiry beside a plan, against all places tried one by one."""

from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest

from capacity.facts import Check
from capacity.plans.audit import audit
from capacity.questions.enquiries.asked import ask
from tests.questions.asking_about import (
    any_plan,
    base_and_enquiries,
    every_place,
    planned,
    refusing,
)
from tests.quick_and_long import some_of
from tests.reference.random_bases import small_base
from tests.slots.rich_bases import rich_base

SEEDS = range(12)


def to_the_cent(money: float) -> object:
    return pytest.approx(money, abs=0.005)


@pytest.mark.parametrize("seed", some_of(SEEDS, quick=7))
def test_the_cheapest_of_all_places_is_found_and_every_place_told_stands(seed: int) -> None:
    rng = Random(seed)
    base, (enquiry,) = base_and_enquiries(small_base(rng), 1, rng)
    plan = planned(base)
    if plan is None:
        return
    before = audit(base, plan).goals.money
    tried = dict(every_place(base, plan, enquiry))
    (answer,) = ask(base, plan, [enquiry])
    told = {(s.bays[0], (s.in_day - enquiry.earliest_in).days): s for s in answer.slots}
    assert set(told) <= set(tried)
    assert len(told) == len(answer.slots)
    for place, slot in told.items():
        assert slot.cost == to_the_cent(tried[place].goals.money - before + enquiry.price)
    if tried:
        cheapest = min(found.goals.money for found in tried.values())
        assert answer.break_even == to_the_cent(cheapest - before + enquiry.price)
    else:
        assert answer.break_even is None


@pytest.mark.parametrize("seed", some_of(SEEDS, quick=5))
def test_at_its_break_even_price_an_enquiry_leaves_the_money_as_it_is(seed: int) -> None:
    rng = Random(100 + seed)
    base, (enquiry,) = base_and_enquiries(rich_base(rng), 1, rng)
    plan = any_plan(base)
    if plan is None:
        return
    before = audit(base, plan)
    (answer,) = ask(base, plan, [enquiry])
    for slot in answer.slots:
        paying = base.replace(checks=(*base.checks, replace(enquiry, price=slot.cost)))
        after = audit(paying, slot.taken_into(refusing(plan, [enquiry])))
        assert after.broken == ()
        assert after.goals.money == to_the_cent(before.goals.money)
        assert after.goals.days_past_latest_in == before.goals.days_past_latest_in
        assert after.overtime_money - before.overtime_money == to_the_cent(slot.costs.overtime)
        assert after.contract_money - before.contract_money == to_the_cent(slot.costs.contract)
        assert after.overload_money - before.overload_money == to_the_cent(slot.costs.overload)
        account = next(a for a in after.accounts if a.check == enquiry.name)
        assert (slot.early_days, slot.late_days) == (account.early_days, account.late_days)
        assert slot.costs.early == to_the_cent(account.early_money)


@pytest.mark.parametrize("seed", range(4))
def test_the_curve_has_the_cheapest_place_of_every_week(seed: int) -> None:
    rng = Random(seed)
    base, (enquiry,) = base_and_enquiries(small_base(rng), 1, rng)
    plan = planned(base)
    if plan is None:
        return
    (answer,) = ask(base, plan, [enquiry])
    by_week: dict[str, list[float]] = {}
    for slot in answer.slots:
        year, week, _ = slot.in_day.isocalendar()
        by_week.setdefault(f"{year}-W{week:02d}", []).append(slot.cost)
    assert {w.week: w.cost for w in answer.curve if w.cost is not None} == {
        week: to_the_cent(min(costs)) for week, costs in by_week.items()
    }
    assert [w.week for w in answer.curve] == sorted({w.week for w in answer.curve})


def test_an_enquiry_moves_on_to_another_bay_where_its_work_is_done_there() -> None:
    moved = []
    for seed in (101, 116, 126):
        rng = Random(seed)
        base, (enquiry,) = base_and_enquiries(rich_base(rng), 1, rng)
        plan = any_plan(base)
        assert plan is not None
        (answer,) = ask(base, plan, [enquiry])
        moved += [slot for slot in answer.slots if len(slot.bays) > 1]
    assert moved
    for slot in moved:
        assert [placement.bay for placement in slot.placements] == list(slot.bays)
        assert all(a.out_day == b.in_day for a, b in pairwise(slot.placements))


def test_bought_hours_of_the_cheapest_place_add_up_to_its_costs() -> None:
    found = 0
    for seed in SEEDS:
        rng = Random(seed)
        base, (enquiry,) = base_and_enquiries(small_base(rng), 1, rng)
        plan = planned(base)
        if plan is None:
            continue
        (answer,) = ask(base, plan, [enquiry])
        if answer.cheapest is None:
            continue
        costs, skills = answer.cheapest.costs, {skill.name: skill for skill in base.skills}
        overtime = sum(m.overtime * skills[m.skill].overtime_cost for m in answer.hours_more)
        overload = sum(m.overload for m in answer.overloads) * base.overload_cost
        assert overtime == pytest.approx(costs.overtime, abs=0.01)
        assert overload == pytest.approx(costs.overload, abs=0.01)
        found += costs.labour > 0
    assert found


def test_many_enquiries_are_each_asked_by_itself() -> None:
    rng = Random(5)
    base, enquiries = base_and_enquiries(small_base(rng), 2, rng)
    plan = planned(base)
    assert plan is not None
    together = ask(base, plan, enquiries)
    alone = [ask(base, plan, [enquiry])[0] for enquiry in enquiries]
    assert [a.slots for a in together] == [a.slots for a in alone]


def test_with_nobody_moved_all_others_stay_in_their_very_bays() -> None:
    rng = Random(3)
    base, enquiries = base_and_enquiries(small_base(rng), 1, rng)
    plan = planned(base)
    assert plan is not None
    (answer,) = ask(base, plan, enquiries)
    for slot in answer.slots:
        others = [p for p in slot.taken_into(plan).placements if p.check != enquiries[0].name]
        assert others == list(plan.placements)


def test_the_enquiries_are_told_in_the_order_asked() -> None:
    rng = Random(6)
    base, enquiries = base_and_enquiries(small_base(rng), 3, rng)
    plan = planned(base)
    assert plan is not None

    def names(asked: list[Check]) -> list[str]:
        return [answer.enquiry.name for answer in ask(base, plan, asked)]

    assert names(enquiries) == [o.name for o in enquiries]
    assert names(enquiries[::-1]) == [o.name for o in enquiries[::-1]]
