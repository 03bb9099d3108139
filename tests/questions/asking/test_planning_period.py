"""The planning period cuts windows: that is told, and planning more weeks is tried."""

import pytest

import capacity
from capacity.facts import Base, weeks_cut_off
from capacity.plans.audit import audit
from capacity.questions.conflicts.explaining import conflicts_of
from capacity.questions.why.explain import explain
from capacity.reports.plan.messages import plan_messages
from capacity.settings import Settings
from capacity.slots.rules.bay_days import ONE_AT_A_TIME
from capacity.slots.rules.period import MORE_WEEKS, THE_PERIOD
from capacity.slots.rules.rule import Rule
from capacity.slots.rules.windows import FIXED_PLACE, LATER, WINDOW
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, visit


def where(sheet: str, name: str, column: str) -> str:
    return f"{sheet}!{name}/{column}"


def planned(base: Base) -> capacity.Planned:
    outcome = capacity.plan(base, capacity.Settings(seconds=4))
    assert isinstance(outcome, capacity.Planned)
    return outcome


def cut(weeks: int = 1) -> Base:
    """B may come in on day 2 to 23; the bay is taken until day 17 and only a week is planned."""
    return stories.base(bays(1), fixed("A", 17, 0, "B1"), visit("B", 5, 2, 23), weeks=weeks)


def test_the_period_is_named_and_more_weeks_are_a_way_out() -> None:
    found = conflicts_of(cut(), 10)
    (conflict,) = found.conflicts
    assert set(conflict.rules) == {
        Rule(FIXED_PLACE, "A"),
        Rule(WINDOW, "B"),
        Rule(ONE_AT_A_TIME, "B1"),
        THE_PERIOD,
    }
    best = conflict.ways_out[0]
    # Day 17 is in the third week; two weeks end with day 13.
    assert (best.change, best.amount, best.is_least) == (MORE_WEEKS, 2, True)
    assert best.base.weeks == 3
    assert best.days_past == 0
    assert audit(best.base, best.plan).broken == ()
    placement = next(p for p in best.plan.placements if p.check == "B")
    assert placement.in_day == day(17)


def test_the_window_is_shown_as_the_period_leaves_it() -> None:
    text = "\n".join(explain(cut(), settings=Settings(seconds=10), where=where).sentences)
    assert (
        "the window of B, in from Wed 6 Jan 2027 to Sun 10 Jan 2027 (Checks!B/Earliest "
        "in:B/Latest in), cut short by Weeks (Base!Weeks/Value): Latest in is Wed 27 Jan 2027"
        in text
    )
    assert "no check comes in after Sun 10 Jan 2027, the end of the 1 week planned" in text
    assert "plan 2 weeks more (Base!Weeks/Value); fewer do not help." in text


def test_the_check_is_told_that_later_days_lie_after_the_period() -> None:
    base = cut()
    outcome = planned(base)
    assert outcome.plan.not_placed == ("B",)
    text = "\n".join(explain(base, outcome.plan, check="B", where=where).sentences)
    assert "from Wed 6 Jan 2027 to Sun 10 Jan 2027: B1: taken by A." in text
    assert "to Wed 3 Feb 2027: B1: after the planning period (Base!Weeks/Value)." in text


def test_the_plan_says_what_was_cut_and_what_would_help() -> None:
    outcome = planned(cut())
    (message,) = [f for f in plan_messages(outcome, cut(), where) if "'B'" in f.what]
    assert message.what.endswith(
        "The planning period cuts its window, which ends on Sun 10 Jan 2027 instead of Wed 27 Jan "
        "2027."
    )
    assert message.remedy.startswith("Plan 4 weeks more (Weeks, Base!Weeks/Value), ")
    assert planned(cut(4)).plan.not_placed == ()


def test_days_past_latest_in_that_lie_after_the_period_come_with_more_weeks() -> None:
    # B could come in on day 9, 3 days past its Latest in, but the only week ends with day 6.
    base = stories.base(bays(1), fixed("A", 9, 0, "B1"), visit("B", 5, 2, 6), weeks=1)
    (conflict,) = conflicts_of(base, 10).conflicts
    assert THE_PERIOD not in conflict.rules  # its window is not cut
    (later,) = [way for way in conflict.ways_out if way.change == LATER]
    assert (later.amount, later.base.weeks, later.days_past) == (3, 2, 3)
    text = "\n".join(explain(base, settings=Settings(seconds=10), where=where).sentences)
    assert "bring B in up to 3 days past its Latest in" in text
    assert ", and plan 1 week more (Base!Weeks/Value)" in text


def test_a_window_that_is_open_for_years_is_not_followed_for_ever() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 4000))
    assert weeks_cut_off(base) == 26


@pytest.mark.parametrize("last", [5, 6, 12])
def test_a_check_that_came_in_on_the_last_day_is_explained_also_on_a_day_off(last: int) -> None:
    """The last day of the plan's only week is a Sunday, on which the base does not work."""
    checks = (fixed("X", 6, 0, "B1"), visit("A", 5, 0, last))
    base = stories.base(bays(1), *checks, weeks=1, working_weekdays=frozenset(range(6)))
    outcome = planned(base)
    assert explain(base, outcome.plan, check="A").whys[0].check == "A"
