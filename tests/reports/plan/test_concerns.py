"""What is wrong with a plan, worst first, on plans laid by hand: nothing is searched for."""

from dataclasses import replace
from datetime import timedelta

from capacity.facts import Base, Check, ReadyDate, Status, WorkProgress
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.reports.plan.concerns import concerns_of
from capacity.reports.plan.messages import plan_messages
from capacity.reports.plan.view import View, view_of
from tests.ui.plans import MONDAY, base, day, stay, view


def option(**changes: object) -> Check:
    return Check("C3", "Q-C", "T30", "light", Status.OPTION, MONDAY, day(14), **changes)  # type: ignore[arg-type]


def with_checks(*more: Check, **changes: object) -> Base:
    return base(checks=(*base().checks, *more), **changes)


def on_time(**changes: object) -> Base:
    """Return the base with so many people that nothing is wrong with the plan of ``quiet``."""
    many = tuple(replace(check, agreed_out=day(20)) for check in base().checks)
    crews = tuple(replace(crew, heads=40) for crew in base().crews)
    return base(checks=many, crews=crews, **changes)


def test_nothing_wrong_is_no_row():
    assert concerns_of(view(on_time())) == ()


def test_each_kind_in_the_order_of_what_it_weighs():
    """C2 is past its Latest in (day 7) by 2 and out late; C1 has no slot."""
    facts = with_checks(option(decide_by=day(3)))
    of = _without(facts, stay("C2", "B2", 9), not_placed=("C1",))
    rows = concerns_of(of)
    assert [row.what for row in rows] == [
        "no slot", "past Latest in", "late out", "option lapses",
    ]  # fmt: skip
    no_slot, past, late, lapses = rows
    assert (no_slot.check, no_slot.how_much) == ("C1", "counts as 29 days past Latest in")
    assert past.how_much == "2 days, in on Wed 13 Jan 2027"
    # Out on day 14 and agreed for day 4: 10 days at 500 EUR.
    assert (late.check, late.how_much) == ("C2", "10 days, 5,000 EUR")
    assert lapses.how_much == "after Thu 7 Jan 2027, in 3 days"


def test_late_out_and_overload_are_weighed_by_their_cost():
    """Two checks ask for 760 h in a week with 300 h, 60 h overtime and 75 h contract labour.

    325 h at 500 EUR are 162,500 EUR. C2 is out a day late.
    """
    for cost, order in (
        (200_000.0, ["late out", "overload"]),
        (1.0, ["overload", "late out"]),
    ):
        c1, c2 = base().checks
        rows = concerns_of(view(base(checks=(c1, replace(c2, late_cost_per_day=cost)))))
        assert [row.what for row in rows] == order
        overload = next(row for row in rows if row.what == "overload")
        assert (overload.week, overload.skill, overload.check) == ("2027-W01", "mechanic", None)
        assert overload.how_much == "325 h, week from Mon 4 Jan 2027"
        assert overload.about == "mechanic, 2027-W01"


def test_work_that_takes_more_than_planned():
    """Repair has 300 h: 10 % for 90 h is a factor of 0.33, so 810 h are to go and 270 planned."""
    behind = WorkProgress("C1", MONDAY, "repair", done=0.1, hours_booked=90.0)
    (row,) = concerns_of(view(on_time(progress=(behind,)), stay("C1", "B1", 0)))[-1:]
    assert (row.what, row.check) == ("progress behind", "C1")
    assert row.how_much == (
        "repair: 810 h to go at a performance factor of 0.33; the plan counts 270 h"
    )
    # Somebody has told of 100 h booked and 310 to go of 300: 110 h more than planned.
    grown = WorkProgress("C1", MONDAY, "repair", hours_to_go=310.0, hours_booked=100.0)
    rows = concerns_of(view(on_time(progress=(grown,)), stay("C1", "B1", 0)))
    assert ("more hours than planned", "C1") in [(one.what, one.check) for one in rows]
    assert any(one.how_much.startswith("110 h") for one in rows)


def test_late_parts_only_where_the_check_is_out_later_for_them():
    ready = ReadyDate("C2", "repair", day(6), "part"), ReadyDate("C2", "open", day(-3), "tool")
    late = on_time(ready_dates=ready)
    (row,) = [one for one in concerns_of(view(late)) if one.what == "waits"]
    assert row.check == "C2"
    assert row.how_much == "repair not before Sun 10 Jan 2027 (part): out 4 days later"


def test_options_lapse_within_fourteen_days_only():
    for days, shown in ((-1, False), (0, True), (14, True), (15, False)):
        by = MONDAY + timedelta(days=days)
        facts = on_time().replace(checks=(*on_time().checks, option(decide_by=by)))
        rows = concerns_of(_without(facts, stay("C1", "B1", 0), stay("C2", "B2", 0)))
        assert [row.what for row in rows] == ["option lapses"] * shown, days


def test_remedies_are_those_of_the_messages():
    facts = with_checks(option(decide_by=day(3)))
    of = _without(facts, stay("C2", "B2", 9), not_placed=("C1",))
    remedies = {message.remedy for message in plan_messages(of.outcome, facts)}
    rows = [row for row in concerns_of(of) if row.what != "late out"]
    assert {row.what_to_do for row in rows} <= remedies


def _without(facts: Base, *placements: object, not_placed: tuple[str, ...] = ()) -> View:
    made = Plan(placements, not_placed=not_placed)  # type: ignore[arg-type]
    outcome = replace(view(base()).outcome, plan=made, audit=audit(facts, made))
    return view_of(facts, outcome, ())
