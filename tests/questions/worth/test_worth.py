"""What one more is worth where it can be worked out on paper."""

from dataclasses import replace
from threading import Event

import pytest

from capacity import InputError
from capacity.facts import Base, Check, Closure, Package, Skill, Stage
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.asking.changes import A_HEAD, AGREED_OUT, LATEST_IN
from capacity.questions.worth.selling import _at_least_as_good, _better_proven, _bounds, worth_of
from capacity.questions.worth.trials import trials_of
from capacity.questions.worth.values import Searched, Worth, Worths
from capacity.questions.worth.wording import worth_sentences, worth_text
from capacity.settings import Settings
from capacity.slots.rules.bay_days import ONE_MORE_BAY
from capacity.slots.rules.closures import A_DAY_LATER, A_DAY_SOONER, CLOSURES
from capacity.slots.rules.one_more import More
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, day, visit

DEAR = Skill("Mechanic", 50.0, 0.5, 70.0, 0.0)


def late(name: str, days: int, first: int, last: int, agreed: int, **changes: object) -> Check:
    """Book a visit that should be home on a day, at 100 a day."""
    return visit(
        name, days, first, last, agreed_out=day(agreed), late_cost_per_day=100.0, **changes
    )


def asked(base: Base, *more: More, of: list[str] | None = None) -> Worths:
    """Ask about a plan; every plan found with a change is audited on its base."""
    plan = planned(base)
    assert plan is not None
    found = worth_of(base, plan, Settings(seconds=20), more=more or None, of=of)
    for worth in found.worths:
        result = audit(worth.base, worth.after.plan)
        assert result.broken == ()
        assert result.goals.money == pytest.approx(worth.after.money)
        assert result.goals.days_past_latest_in == worth.after.days_past
    return found


def only(found: Worths) -> Worth:
    (worth,) = found.worths
    return worth


def two_at_once() -> Base:
    """Two checks want the only bay for the same five days; one goes home five days late."""
    return stories.base(bays(1), late("A", 5, 0, 9, 5), late("B", 5, 0, 9, 5))


def test_the_bay_that_is_the_bottleneck_is_worth_the_lateness() -> None:
    found = asked(two_at_once(), ONE_MORE_BAY)
    assert (found.now_money, found.without.money) == (500.0, 500.0)
    worth = only(found)
    assert (worth.of, worth.saves_days, worth.saves) == ("B1", 0, 500.0)
    assert (worth.least, worth.most) == (pytest.approx(500.0), pytest.approx(500.0))
    assert worth_text(worth, two_at_once()) == "one more bay like B1 (Bays): saves 500 EUR, proven."


def test_a_bay_that_is_no_bottleneck_is_worth_nothing() -> None:
    base = stories.base(bays(2), late("A", 5, 0, 9, 5), late("B", 5, 0, 9, 5))
    found = asked(base, ONE_MORE_BAY)
    worth = only(found)
    assert (worth.saves, worth.least, worth.most) == (0.0, 0.0, pytest.approx(0.0))
    assert "No gain was found from: one more bay like B1." in worth_sentences(found, base)


def test_a_bay_takes_days_past_latest_in_away() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 0), visit("B", 5, 0, 0))
    worth = only(asked(base, ONE_MORE_BAY))
    assert (worth.saves_days, worth.least, worth.most) == (5, None, None)
    assert "5 fewer days past Latest in" in worth_text(worth, base)


def test_there_is_a_bay_of_each_size() -> None:
    narrow, wide = bays(2)
    wide = replace(wide, max_span_m=60.0)
    twin = replace(wide, name="B3")
    base = stories.base((narrow, wide, twin), visit("A", 5, 0, 0))
    assert [worth.of for worth in asked(base, ONE_MORE_BAY).worths] == ["B1", "B2"]


def short_of_hours() -> Base:
    """A week of 70 regular hours in which 100 are asked."""
    asks = Package("busy", (Stage("Work", "maintenance", 7, {"Mechanic": 100.0}),))
    base = stories.base(bays(1), visit("A", 7, 0, 0, package="busy"), skills=(DEAR,))
    return base.replace(packages=(*base.packages, asks))


def test_a_head_is_worth_the_overtime_it_saves() -> None:
    worth = only(asked(short_of_hours(), A_HEAD))
    assert (worth.of, worth.saves) == ("Day crew", pytest.approx(30 * 50.0))
    assert worth.least == worth.most == pytest.approx(1500.0)
    assert only(asked(short_of_hours(), of=["Mechanic"])).more is A_HEAD


def test_no_head_is_asked_about_where_no_hours_are_bought() -> None:
    assert asked(two_at_once(), A_HEAD).worths == ()
    assert only(asked(two_at_once(), A_HEAD, of=["Mechanic"])).saves == 0.0


def test_a_day_more_for_a_check_that_goes_home_late() -> None:
    found = asked(two_at_once(), AGREED_OUT)
    worth = only(found)
    # Only the check that is late is asked about: one of the two, by one of its five days.
    assert worth.of in ("A", "B")
    assert (worth.saves, worth.least, worth.most) == (100.0, 100.0, pytest.approx(100.0))


def test_a_day_more_for_a_check_that_comes_in_past_latest_in() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 0), visit("B", 5, 3, 3))
    worth = only(asked(base, LATEST_IN))
    assert (worth.of, worth.saves_days) == ("B", 1)


def test_early_days_count_from_a_later_latest_in() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 3, early_cost_per_day=10.0), visit("X", 20, 5, 5))
    worth = only(asked(base, LATEST_IN, of=["A"]))
    # A has to be in by day 0, three days before Latest in; four when that is put off.
    assert worth.saves == pytest.approx(-10.0)
    assert (worth.least, worth.most) == (pytest.approx(-10.0), pytest.approx(-10.0))


def test_a_day_off_a_closure() -> None:
    base = stories.base(
        bays(1), late("A", 5, 0, 20, 5), closures=(Closure("B1", day(2), day(4), "floor"),)
    )
    found = asked(base, A_DAY_SOONER, A_DAY_LATER)
    assert [(worth.more, worth.saves) for worth in found.worths] == [
        (A_DAY_SOONER, 100.0),
        (A_DAY_LATER, 0.0),
    ]
    text = worth_text(found.worths[0], base, lambda *asked: f"{asked[0]}!C2")
    assert text == "B1 open again on Fri 8 Jan 2027 (Bay closures!C2): saves 100 EUR, proven."


def test_a_closure_of_one_day_is_gone_when_it_is_a_day_shorter() -> None:
    base = stories.base(bays(1), closures=(Closure("B1", day(2), day(2)),))
    assert [(trial.more, trial.base.closures) for trial in CLOSURES.one_more(base)] == [
        (A_DAY_SOONER, ())
    ]


def test_what_is_worth_most_stands_first_and_is_told_as_it_comes() -> None:
    base = two_at_once()
    plan = planned(base)
    assert plan is not None
    heard: list[Worth] = []
    found = worth_of(base, plan, Settings(seconds=20), on_worth=heard.append)
    assert [worth.more for worth in found.worths] == [ONE_MORE_BAY, AGREED_OUT]
    assert sorted(heard, key=lambda worth: -worth.saves) == list(found.worths)


def test_a_set_stop_tries_nothing() -> None:
    stop = Event()
    stop.set()
    base = two_at_once()
    plan = planned(base)
    assert plan is not None
    found = worth_of(base, plan, Settings(seconds=20), stop=stop)
    assert found.worths == ()
    assert len(found.not_tried) == 2
    assert "Not tried in the time given: one more bay like B1" in " ".join(
        worth_sentences(found, base)
    )


def test_a_plan_of_another_base_is_refused() -> None:
    plan = planned(two_at_once())
    assert plan is not None
    with pytest.raises(InputError):
        worth_of(stories.base(bays(1), late("A", 5, 0, 9, 5)), plan)


def searched(days: int, money: float, bound: float | None, days_bound: int) -> Searched:
    return Searched(Plan(()), days, money, bound, days_bound)


def test_bounds_are_told_only_where_they_hold() -> None:
    without, after = searched(0, 100.0, 80.0, 0), searched(0, 70.0, 60.0, 0)
    assert _bounds(ONE_MORE_BAY, without, after) == (10.0, 40.0)
    assert _bounds(ONE_MORE_BAY, without, replace(after, money=95.0)) == (0.0, 40.0)
    assert _bounds(LATEST_IN, without, replace(after, money=95.0)) == (-15.0, 40.0)
    assert _bounds(ONE_MORE_BAY, without, replace(after, bound=None)) == (10.0, None)
    assert _bounds(ONE_MORE_BAY, replace(without, bound=None), after) == (0.0, 40.0)
    assert _bounds(ONE_MORE_BAY, without, replace(after, days_past=1)) == (None, None)
    late_too = replace(without, days_past=1), replace(after, days_past=1)
    assert _bounds(ONE_MORE_BAY, *late_too) == (None, None)  # fewer days may be possible


def test_the_higher_bound_of_two_searches_stands() -> None:
    first, again = searched(0, 90.0, 85.0, 0), searched(0, 88.0, 80.0, 0)
    assert _better_proven(first, again) == searched(0, 88.0, 85.0, 0)
    fewer = searched(1, 88.0, 80.0, 1)
    assert _better_proven(searched(2, 90.0, 85.0, 0), fewer) == fewer


def test_a_search_that_finds_less_does_not_make_a_change_look_bad() -> None:
    base = two_at_once()
    plan = planned(base)
    assert plan is not None
    without = Searched(plan, 0, 500.0, 500.0, 0)
    worse = searched(0, 900.0, 0.0, 0)
    assert _at_least_as_good(worse, without, base) == Searched(plan, 0, 500.0, 0.0, 0)
    better = searched(0, 400.0, 0.0, 0)
    assert _at_least_as_good(better, without, base) is better


def test_only_what_is_asked_for_is_tried() -> None:
    base = short_of_hours()
    plan = planned(base)
    assert plan is not None
    now = audit(base, plan)
    assert [trial.of for trial in trials_of(base, now, None, ["A"])] == ["A"]
    assert [trial.of for trial in trials_of(base, now, {ONE_MORE_BAY}, None)] == ["B1"]
