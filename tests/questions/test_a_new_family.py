"""A family of rules nobody has heard of, registered here: plan, audit and answers keep to it.

The optimum of each base is worked out on paper.
"""

from datetime import date

import pytest

import capacity
from capacity.facts import Base
from capacity.plans import audit_rules
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.why.explain import explain
from capacity.questions.why.values import Blocker
from capacity.questions.worth.selling import worth_of
from capacity.settings import Settings
from capacity.slots.rules import families
from capacity.slots.rules.rule import Rule
from capacity.slots.rules.windows import FIXED_PLACE, WINDOW
from tests.questions.arrivals import (
    ARRIVALS,
    AUDITED_ARRIVALS,
    MORE_ARRIVALS,
    ONE_MORE_ARRIVAL,
    TUGS,
    with_tugs,
)
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, visit

ONE_A_DAY = Rule(ARRIVALS, "Arrivals a day")


@pytest.fixture
def registered(monkeypatch: pytest.MonkeyPatch) -> None:
    """Put the family into the two lists that the recipe names: the families, and the audit's."""
    monkeypatch.setattr(families, "FAMILIES", (*families.FAMILIES, TUGS))
    monkeypatch.setattr(audit_rules, "PLAN_RULES", (*audit_rules.PLAN_RULES, AUDITED_ARRIVALS))


def two_on_one_day() -> Base:
    """Two bays, and two checks that want to come in on the first day."""
    return with_tugs(stories.base(bays(2), visit("A", 5, 0, 0), visit("B", 5, 0, 0)))


def behind_a_fixed_one() -> Base:
    """A is fixed to the only day on which B is in time."""
    return with_tugs(stories.base(bays(2), fixed("A", 5, 0, "B1"), visit("B", 5, 0, 0)))


def planned(base: Base) -> Plan:
    outcome = capacity.plan(base, capacity.Settings(seconds=4))
    assert isinstance(outcome, capacity.Planned)
    return outcome.plan


def in_days(plan: Plan) -> list[date]:
    return sorted(placement.in_day for placement in plan.placements)


@pytest.mark.parametrize("make", [two_on_one_day, behind_a_fixed_one])
@pytest.mark.usefixtures("registered")
def test_the_plan_keeps_it(make) -> None:
    assert in_days(planned(make())) == [day(0), day(1)]


def test_without_the_family_both_come_in_at_once_and_the_audit_of_the_family_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    base = two_on_one_day()
    plan = planned(base)
    assert in_days(plan) == [day(0), day(0)]
    assert audit(base, plan).breaches == ()
    monkeypatch.setattr(audit_rules, "PLAN_RULES", (*audit_rules.PLAN_RULES, AUDITED_ARRIVALS))
    (breach,) = audit(base, plan).breaches
    assert breach.rule in TUGS.audited_as
    assert breach.text == "2 aircraft come in on 2027-01-04, more than 1."


@pytest.mark.parametrize("make", [two_on_one_day, behind_a_fixed_one])
@pytest.mark.usefixtures("registered")
def test_it_is_named_as_what_conflicts_with_what_would_help(make) -> None:
    base = make()
    found = explain(base, planned(base), Settings(seconds=15))
    assert found.conflicts is not None
    assert found.conflicts.possible is False
    (conflict,) = found.conflicts.conflicts
    asks_for_a = Rule(FIXED_PLACE if make is behind_a_fixed_one else WINDOW, "A")
    assert set(conflict.rules) == {asks_for_a, Rule(WINDOW, "B"), ONE_A_DAY}
    assert conflict.is_smallest
    ways = {way.change: way for way in conflict.ways_out}
    way = ways[MORE_ARRIVALS]
    assert (way.amount, way.is_least, way.days_past) == (1, True, 0)
    assert in_days(way.plan) == [day(0), day(0)]
    text = "\n".join(found.sentences)
    assert "  - at most 1 arrival a day (Base)" in text
    assert "let 1 more aircraft come in on a day (Base); fewer do not help." in text
    for false in ("All is possible", "search longer", "does not know", "free"):
        assert false not in text


@pytest.mark.parametrize("make", [two_on_one_day, behind_a_fixed_one])
@pytest.mark.usefixtures("registered")
def test_no_bay_is_called_free_on_a_day_that_it_blocks(make) -> None:
    base = make()
    plan = planned(base)
    late = max(plan.placements, key=lambda placement: placement.in_day).check
    other = "A" if late == "B" else "B"
    found = explain(base, plan, check=late)
    (why,) = found.whys
    assert {place.day for place in why.better} == {day(0)}
    assert all(Blocker(ONE_A_DAY, (other,)) in place.by for place in why.better)
    text = "\n".join(found.sentences)
    assert f"no arrival is left on that day beside {other} (Base)" in text
    for false in ("free", "search longer", "does not know"):
        assert false not in text


@pytest.mark.usefixtures("registered")
def test_one_more_is_worth_the_day_that_it_saves() -> None:
    base = two_on_one_day()
    found = worth_of(base, planned(base), Settings(seconds=10), more=[ONE_MORE_ARRIVAL])
    (worth,) = found.worths
    assert (worth.what, worth.saves_days) == ("one more arrival a day", 1)
