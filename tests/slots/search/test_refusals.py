"""Refused options: where they could stand, and what they would have had to pay."""

from dataclasses import replace

import numpy as np
import pytest

import capacity
from capacity.facts import Base, Check, Package, Skill, Stage, Status
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, proven, visit

DEAR = Skill("Mechanic", 50.0, 9.0, 70.0, 0.0)


def option(name: str, days: int, first: int, last: int, price: float, **changes: object) -> Check:
    return visit(name, days, first, last, status=Status.OPTION, price=price, **changes)


def busy_week(*checks: Check) -> Base:
    """One week of 70 regular hours in two bays; a visit of seven days may ask 100."""
    asks = Package("busy", (Stage("Work", "maintenance", 7, {"Mechanic": 100.0}),))
    base = stories.base(bays(2), *checks, skills=(DEAR,), working_weekdays=frozenset(range(7)))
    return base.replace(packages=(*base.packages, asks))


def test_an_option_is_told_what_the_hours_it_asks_would_cost() -> None:
    cheap = option("O", 7, 0, 0, price=1499.0, package="busy")
    (refusal,) = proven(busy_week(cheap)).refusals
    assert (refusal.check, refusal.price) == ("O", 1499.0)
    assert refusal.needed_price == pytest.approx(30 * 50.0)
    assert refusal.labour_money == pytest.approx(30 * 50.0)
    assert (refusal.bay, refusal.in_day, refusal.out_day) == ("B1", day(0), day(7))
    (dear,) = refusal.dearest_hours
    assert (dear.skill, dear.week) == ("Mechanic", "2027-W01")
    assert dear.hours == pytest.approx(30.0)


def test_at_the_price_it_was_told_it_pays_its_way() -> None:
    told = proven(busy_week(option("O", 7, 0, 0, price=0.0, package="busy"))).refusals[0]
    assert told.needed_price is not None
    paying = option("O", 7, 0, 0, price=told.needed_price + 0.01, package="busy")
    outcome = proven(busy_week(paying))
    assert outcome.refusals == ()
    assert [placement.check for placement in outcome.plan.placements] == ["O"]


def test_it_names_who_would_have_to_move() -> None:
    # B alone stands on day 3 for nothing; for the option it would have to come in three days
    # early, at 10 a day.
    other = visit("B", 3, 0, 3, early_cost_per_day=10.0)
    base = stories.base(bays(1), other, option("O", 3, 3, 3, price=5.0))
    outcome = proven(base)
    (refusal,) = outcome.refusals
    assert refusal.moved == ("B",)
    assert refusal.needed_price == pytest.approx(30.0)
    assert outcome.audit.goals.money == 0.0


def test_without_a_place_it_names_who_stands_there() -> None:
    base = stories.base(bays(1), visit("B", 5, 0, 0), option("O", 3, 2, 4, price=1e6))
    (refusal,) = proven(base).refusals
    assert refusal.needed_price is None
    assert refusal.in_the_way == ("B",)


def test_a_fixed_check_leaves_an_option_nowhere_at_all() -> None:
    base = stories.base(bays(1), fixed("F", 9, 0, "B1"), option("O", 3, 2, 4, price=1e6))
    (refusal,) = proven(base).refusals
    assert refusal.needed_price is None
    assert refusal.in_the_way == ()


def test_stopping_at_once_still_tells_the_place_beside_the_others() -> None:
    from threading import Event

    stop = Event()
    stop.set()
    base = busy_week(option("O", 7, 0, 0, price=10.0, package="busy"))
    many = [visit(f"V{n}", 1, 20, 60) for n in range(40)]  # too many to be solved on the spot
    outcome = capacity.plan(
        base.replace(checks=(*base.checks, *many)), capacity.Settings(seconds=20), stop=stop
    )
    assert isinstance(outcome, capacity.Planned)
    assert outcome.stopped_by == "stop"
    assert [refusal.needed_price for refusal in outcome.refusals] == [pytest.approx(1500.0)]


def test_a_refusal_is_about_the_plan_that_is_told() -> None:
    """Two options for one slot: each is told against the plan without it."""
    two = option("O", 3, 0, 0, price=10.0), option("P", 3, 0, 0, price=30.0)
    outcome = proven(stories.base(bays(1), *two))
    (refusal,) = outcome.refusals
    assert refusal.check == "O"
    assert outcome.audit.goals.money == -30.0
    assert refusal.needed_price == pytest.approx(30.0)
    assert (refusal.moved, refusal.given_up) == ((), ("P",))


def test_no_option_no_refusal() -> None:
    outcome = proven(stories.base(bays(1), visit("A", 3, 0, 0)))
    assert outcome.refusals == ()
    assert np.isfinite(outcome.seconds)
    assert replace(outcome, refusals=()) == outcome
