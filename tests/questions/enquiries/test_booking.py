"""Enquiries booked into a plan: what is booked, what it costs, who moves, and how it is written."""

from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

import capacity
from capacity import Booked, InputError, Settings
from capacity.facts import Base, Check, Status
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.replan.values import Cause, What
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, day, visit

QUICK = Settings(seconds=5)
# One bay. A comes in on day 0 for 5 days; B on day 10, where each day earlier costs 30.
A, B = visit("A", 5, 0, 0), visit("B", 5, 0, 10, early_cost_per_day=30.0)


def asked_of(base: Base) -> Plan:
    plan = planned(base)
    assert plan is not None
    return plan


def enquiry(price: float, days: int = 5, **more: object) -> Check:
    usual = visit("E", days, 10, 10, status=Status.OPTION, price=price, customer="Fernhill")
    return replace(usual, **more)


@pytest.fixture(scope="module")
def base() -> Base:
    return stories.base(bays(1), A, B)


@pytest.fixture(scope="module")
def plan(base: Base) -> Plan:
    return asked_of(base)


def test_what_is_worth_it_is_booked_and_who_makes_room_is_told(base: Base, plan: Plan) -> None:
    # E has to have B's days: B comes in five days earlier, for 150.
    booked = capacity.book(base, plan, [enquiry(200.0)], QUICK, may_move=None)
    assert isinstance(booked, Booked)
    check = booked.base.check("E")
    assert (check.status, check.price) == (Status.BOOKED, 0.0)
    assert booked.combination.gain == pytest.approx(50.0)
    assert booked.is_worth_it
    assert audit(booked.base, booked.plan).broken == ()
    assert booked.audit.goals.money == pytest.approx(150.0)
    new, moved = booked.changes
    assert (new.check, new.what, new.concerned.customer) == ("E", (What.NEW,), "Fernhill")
    assert (moved.check, moved.days_moved) == ("B", -5)
    assert (moved.why[0].cause, moved.why[0].by) == (Cause.MADE_ROOM, ("E",))


def test_what_is_not_worth_it_is_booked_only_when_that_is_said(base: Base, plan: Plan) -> None:
    asked = [enquiry(100.0)]
    assert capacity.book(base, plan, asked, QUICK, may_move=None) is None
    booked = capacity.book(base, plan, asked, QUICK, may_move=None, anyway=True)
    assert isinstance(booked, Booked)
    assert booked.combination.gain == pytest.approx(-50.0)
    assert booked.combination.enquiries[0].price == 100.0
    assert not booked.is_worth_it


def test_what_has_no_slot_is_not_booked_anyway(base: Base, plan: Plan) -> None:
    asked = [enquiry(9e6, name="No", latest_in=day(0), earliest_in=day(0))]
    assert capacity.book(base, plan, asked, QUICK, anyway=True) is None
    two = [*asked, enquiry(0.0, name="Yes", earliest_in=day(20), latest_in=day(20))]
    booked = capacity.book(base, plan, two, QUICK, anyway=True)
    assert booked is not None
    assert (booked.names, booked.left_out) == (("Yes",), ("No",))


def test_the_whole_plan_is_written_with_its_changes(base: Base, plan: Plan, tmp_path: Path) -> None:
    booked = capacity.book(base, plan, [enquiry(200.0)], QUICK, may_move=None)
    assert booked is not None
    for name in ("plan.xlsx", "plan.json", "bays.ics"):
        capacity.report(booked.base, booked, tmp_path / name)
    book = openpyxl.load_workbook(tmp_path / "plan.xlsx")
    assert book.sheetnames[:4] == ["Overview", "Booking", "Changes", "Overload compared"]
    assert {"Slots", "Stages", "Bay occupancy", "Man-hours"} <= set(book.sheetnames)
    said = [str(row[0]) for row in book["Booking"].iter_rows(values_only=True) if row[0]]
    assert any(
        "adds 150 EUR to the cost of the plan and earns 200 EUR: it gains 50 EUR" in one
        for one in said
    )
    overview = [row[1] for row in book["Overview"].iter_rows(values_only=True)]
    assert "the answer to an enquiry" in overview
    changes = list(book["Changes"].iter_rows(values_only=True))
    assert [row[0] for row in changes] == ["Check", "E", "B"]
    assert "Price of the move (EUR)" not in changes[0]
    why = changes[0].index("Why")
    assert str(changes[2][why]).startswith("it moves for E: otherwise")
    again = capacity.read_plan(booked.base, tmp_path / "plan.json")
    assert again.plan == booked.plan
    assert not [note for note in again.notes if "has changed" in str(note)]


def test_who_is_in_already_does_not_move_and_nobody_comes_in_before_the_re_plan(
    base: Base, plan: Plan
) -> None:
    # B is in since day 10; the plan was made again on day 11, so E has to wait for its end.
    again = base.replace(work_counts_from=day(11))
    asked = [enquiry(9000.0, earliest_in=day(8), latest_in=day(20))]
    booked = capacity.book(again, plan, asked, QUICK, may_move=None)
    assert booked is not None
    assert [change.check for change in booked.changes] == ["E"]
    assert booked.plan.by_check()["E"][0].in_day == day(15)
    with pytest.raises(InputError, match="came in before"):
        capacity.book(again, plan, asked, QUICK, may_move=["B"])
    none = [enquiry(9000.0, earliest_in=day(5), latest_in=day(5))]
    assert capacity.book(again, plan, none, QUICK, anyway=True) is None
