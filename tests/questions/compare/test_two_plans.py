"""Two plans of one base side by side."""

from dataclasses import replace

import pytest

from capacity.facts import Base, Package, Skill, Stage, Status
from capacity.plans.plan import Plan
from capacity.questions.compare.two_plans import compare
from capacity.questions.replan.values import What
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, day, visit


def busy_base() -> Base:
    asks = Package("busy", (Stage("Work", "maintenance", 7, {"Mechanic": 100.0}),))
    base = stories.base(
        bays(2),
        visit("A", 7, 0, 14, package="busy", early_cost_per_day=2.0),
        visit("B", 7, 0, 14, package="busy"),
        visit("O", 7, 0, 0, status=Status.OPTION, price=3.0),
        skills=(Skill("Mechanic", 50.0, 0.1, 70.0, 0.0),),
    )
    return base.replace(packages=(*base.packages, asks))


def plan_on(base: Base, **latest: int) -> Plan:
    """Plan the base with checks held to one day each, by name."""
    held = tuple(
        replace(c, earliest_in=day(latest[c.name]), latest_in=day(latest[c.name]))
        if c.name in latest
        else c
        for c in base.checks
    )
    plan = planned(base.replace(checks=held))
    assert plan is not None
    return plan


def test_a_plan_is_like_itself() -> None:
    base = busy_base()
    plan = plan_on(base, A=0, B=7)
    same = compare(base, plan, plan)
    assert same.differing == ()
    assert all(pair.more == 0 for pair in same.money)
    assert len(same.placements) == len(base.checks)


def test_what_differs_stands_side_by_side() -> None:
    base = busy_base()
    apart, together = plan_on(base, A=0, B=7, O=0), plan_on(base, A=7, B=7, O=0)
    told = compare(base, apart, together)
    # In which of two like bays a check stands is left to chance.
    days = {pair.check: pair.days for pair in told.differing if What.DAY in pair.what}
    assert days == {"A": 7}
    money = {pair.name: (pair.first, pair.second) for pair in told.money}
    # 100 hours a week against 70 regular ones and 7 of overtime.
    assert money["overtime"] == (pytest.approx(700.0), pytest.approx(350.0))
    assert money["overload"] == (pytest.approx(23_000.0), pytest.approx(61_500.0))
    assert money["early days"] == (pytest.approx(28.0), pytest.approx(14.0))
    assert money["prices of options"] == (-3.0, -3.0)
    first = sum(value[0] for name, value in money.items() if name != "money")
    assert first == pytest.approx(money["money"][0])
    assert [(o.week, o.first, o.second) for o in told.overloads] == [
        ("2027-W01", pytest.approx(23.0), 0.0),
        ("2027-W02", pytest.approx(23.0), pytest.approx(123.0)),
    ]


def test_a_plan_that_breaks_a_rule_is_compared_all_the_same() -> None:
    base = busy_base()
    plan = plan_on(base, A=0, B=7)
    wrong = replace(plan, placements=plan.placements[1:])
    told = compare(base, plan, wrong)
    assert told.first.broken == ()
    assert told.second.broken
    assert What.UNPLACED in told.differing[0].what
