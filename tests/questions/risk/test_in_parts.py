"""Simulations in parts come to what they come to all at once, and end when they are to."""

from dataclasses import replace
from threading import Event

import pytest

from capacity.errors import StoppedError
from capacity.plans.plan import Plan
from capacity.questions.risk.settings import RiskSettings
from capacity.questions.risk.simulated import DRAWS_A_PART, risk_of
from tests.plans.stories import placed
from tests.questions.risk.test_compared import STORY, TIGHT
from tests.questions.risk.test_levelled import story as levelled

SETTINGS = RiskSettings(draws=2 * DRAWS_A_PART + 50)


def test_parts_come_to_what_all_do_at_once():
    told: list[int] = []
    in_parts = risk_of(STORY, TIGHT, SETTINGS, on_draws=told.append)
    assert told == [DRAWS_A_PART, 2 * DRAWS_A_PART, SETTINGS.draws]
    assert in_parts == risk_of(STORY, TIGHT, SETTINGS)


def test_levelled_hours_in_parts_too():
    story = levelled(2.0, 0, 0, 3)
    work = replace(story.packages[0].stages[0], findings=0.5, findings_spread=0.5)
    story = story.replace(packages=(replace(story.packages[0], stages=(work,)),))
    made = Plan(tuple(placed(f"C{n}", i, bay=f"B{n}") for n, i in enumerate((0, 0, 3))))
    found = risk_of(story, made, SETTINGS, stop=Event())
    assert found == risk_of(story, made, SETTINGS)
    assert found.totals.overload_hours > 0


def test_there_are_as_many_simulations_as_there_is_time_for_one_part_at_least():
    found = risk_of(STORY, TIGHT, SETTINGS, seconds=0.0)
    assert found.settings.draws == DRAWS_A_PART
    # The same luck as ever: the first draws of all.
    assert found == risk_of(STORY, TIGHT, RiskSettings(draws=DRAWS_A_PART), stop=Event())


def test_a_stop_keeps_what_was_simulated_and_none_before_that_is_no_answer():
    stop = Event()
    found = risk_of(STORY, TIGHT, SETTINGS, stop=stop, on_draws=lambda done: stop.set())
    assert found.settings.draws == DRAWS_A_PART
    with pytest.raises(StoppedError):
        risk_of(STORY, TIGHT, SETTINGS, stop=stop)
