"""A rule of the planning program that the explanation has never heard of: nothing false is said.

The toy rules here are put into the program only; a plan obeys them.
"""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

import capacity
from capacity.facts import Base, Bay, Closure
from capacity.labour.calendar import Calendar
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.questions.conflicts.confirmed import UNKNOWN
from capacity.questions.why.explain import explain
from capacity.questions.why.values import Blocker
from capacity.settings import Settings
from capacity.slots.candidates import bay_uses
from capacity.slots.candidates import enumerated as candidates
from capacity.slots.rules.rule import Rule
from capacity.slots.rules.windows import WINDOW
from tests.reference import stories
from tests.reference.stories import bays, day, visit


def planned(base: Base) -> Plan:
    outcome = capacity.plan(base, capacity.Settings(seconds=4))
    assert isinstance(outcome, capacity.Planned)
    return outcome.plan


def shut_around(bay: Bay, base: Base, calendar: Calendar) -> NDArray[np.bool_]:
    """Shut a bay on the two days after a closure as well."""
    shut = CLOSED(bay, base, calendar)
    return shut | np.roll(shut, 1) | np.roll(shut, 2)


CLOSED = bay_uses._closed


def test_a_filter_of_places_is_told_as_an_unknown_rule(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bay_uses, "_closed", shut_around)
    base = stories.base(
        bays(1),
        visit("A", 5, 20, 30),
        visit("B", 5, 3, 3),
        closures=(Closure("B1", day(0), day(2)),),
    )
    plan = planned(base)
    assert next(p.in_day for p in plan.placements if p.check == "B") == day(5)
    found = explain(base, plan, Settings())
    text = "\n".join(found.sentences)
    assert found.conflicts is not None
    assert found.conflicts.possible is False
    assert [conflict.rules for conflict in found.conflicts.conflicts] == [
        (Rule(WINDOW, "B"), UNKNOWN)
    ]
    assert "some rule that this explanation does not know" in text
    assert "No smaller part" not in text
    assert "search longer" not in text
    (why,) = explain(base, plan, check="B").whys
    assert why.dearer == ()
    assert {place.by for place in why.blocked} == {(Blocker(UNKNOWN),)}
    assert "free" not in "\n".join(found.sentences)


def test_days_on_which_nobody_may_come_in_are_told_as_left_out(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    known = candidates._days_that_gain

    def not_on_mondays(*asked: object) -> NDArray[np.int64]:
        days: NDArray[np.int64] = known(*asked)  # type: ignore[arg-type]
        return days[days % 7 != 0]

    monkeypatch.setattr(candidates, "_days_that_gain", not_on_mondays)
    base = stories.base(bays(1), visit("B", 5, 0, 0))
    plan = planned(base)
    assert plan.placements[0].in_day == day(1)
    found = explain(base, plan, Settings())
    assert (
        "Some days of the windows of B are left out by some rule that this explanation does not "
        "know." in found.sentences
    )
    (why,) = explain(base, plan, check="B").whys
    assert why.left_out == (day(0),)
    text = "\n".join(explain(base, plan, check="B").sentences)
    assert "On Mon 4 Jan 2027 its window is open, but some rule that this explanation" in text
    assert "No other day or bay would be better" not in text


def test_no_rule_is_unknown_where_all_are_known() -> None:
    base = stories.base(
        bays(1), visit("A", 5, 0, 0), visit("B", 5, 3, 3), closures=(Closure("B1", day(8), day(8)),)
    )
    found = explain(base, planned(base), Settings())
    assert "does not know" not in "\n".join(found.sentences)


def test_too_little_time_is_no_proof_that_all_is_possible() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 0), visit("B", 5, 5, 5))
    found = explain(base, settings=Settings(seconds=0.0))
    assert found.conflicts is not None
    assert found.conflicts.possible is None


def test_a_late_check_is_told_what_lengthens_its_stay() -> None:
    weekdays = frozenset(range(5))
    due = visit("A", 5, 3, 3, agreed_out=day(8), late_cost_per_day=100.0)
    base = stories.base(bays(1), due, working_weekdays=weekdays)
    text = "\n".join(explain(base, planned(base), check="A").sentences)
    assert (
        "Coming in on the same day it could be out 2 days earlier, on Tue 12 Jan 2027, but for "
        "this: the base does not work every day: Working days (Base)." in text
    )
    works_daily = base.replace(working_weekdays=frozenset(range(7)), checks=(replace(due),))
    late = replace(due, agreed_out=day(7))
    text = "\n".join(
        explain(works_daily.replace(checks=(late,)), planned(works_daily), check="A").sentences
    )
    assert "It is 1 day late out" in text
    assert "sooner" not in text


def test_a_place_on_a_day_off_that_no_search_tries_is_explained_like_any_other() -> None:
    """As a re-plan may leave it: A comes in on a Saturday, when nobody works."""
    weekdays = frozenset(range(5))
    due = visit("A", 5, 3, 14, agreed_out=day(9), late_cost_per_day=10.0)
    base = stories.base(bays(1), due, working_weekdays=weekdays)
    stages = (StageDays("Work", day(7), day(12)),)  # begun on the first worked day
    plan = Plan((Placement("A", "B1", "Work", day(5), day(12), stages),), (), ())
    text = "\n".join(explain(base, plan, check="A").sentences)
    assert "A comes into B1 on Sat 9 Jan 2027" in text
    assert "on Thu 7 Jan 2027: B1: free, the plan would cost 20 EUR less." in text
    assert "does not know" not in text
