"""Levers have the same time each, and a stop ends them with what has been tried."""

import time
from threading import Event
from typing import Any

import pytest

from capacity.facts import Closure
from capacity.questions import levers as module
from capacity.questions.lever_trials import trials_of
from capacity.questions.levers import Lever, pull_levers
from capacity.questions.searching import Found, best_choice
from tests.plans.stories import day, plan
from tests.questions.overtime_stories import booked, stands, ten_mechanics, visit

WORK = visit(690)
STORY = ten_mechanics(
    (WORK,),
    booked("C1", WORK, 0, 7),
    booked("C2", WORK, 0, 7),
    closures=(Closure("B1", day(40), day(41)), Closure("B2", day(40), day(41))),
)
PLAN = plan(stands("C1", WORK), stands("C2", WORK, bay="B2"))
TRIALS = trials_of(PLAN, STORY)
NAMES = [trial.what for trial in TRIALS]
SEARCHED = [trial.what for trial in TRIALS if trial.search]


def test_all_are_tried_when_nobody_stops() -> None:
    told: list[Lever] = []
    levers = pull_levers(PLAN, STORY, 10.0, on_lever=told.append)
    assert levers.not_tried == ()
    assert [lever.what for lever in told] == NAMES
    assert sorted(lever.what for lever in levers.levers) == sorted(NAMES)
    # One head, one team, two checks moved and two bays, of which head and bays are searched.
    assert (len(NAMES), len(SEARCHED)) == (6, 3)


def test_every_search_has_the_same_time_and_seed(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []

    def noted(program: Any, start: Any, settings: Any, stop: Any) -> Found:
        asked.append((settings.seconds, settings.seed))
        return best_choice(program, start, settings, stop)

    monkeypatch.setattr(module, "best_choice", noted)
    pull_levers(PLAN, STORY, 40.0, seed=7)
    assert len(asked) == 1 + len(SEARCHED)
    assert len(set(asked)) == 1
    seconds, seed = asked[0]
    assert seed == 7
    assert 5.0 < seconds <= 0.9 * 40.0 / 4


@pytest.mark.parametrize("kept", [1, 3])
def test_a_stop_after_a_lever_keeps_it_and_names_the_rest(kept: int) -> None:
    stop, told = Event(), []

    def stop_at(lever: Lever) -> None:
        told.append(lever.what)
        if len(told) == kept:
            stop.set()

    levers = pull_levers(PLAN, STORY, 10.0, stop=stop, on_lever=stop_at)
    assert told == NAMES[:kept]
    assert sorted(lever.what for lever in levers.levers) == sorted(NAMES[:kept])
    assert list(levers.not_tried) == NAMES[kept:]


def test_a_search_that_is_cut_short_is_not_compared(monkeypatch: pytest.MonkeyPatch) -> None:
    stop, searches = Event(), []

    def stopped_in_second(program: Any, start: Any, settings: Any, stop: Event) -> Found:
        searches.append(settings.seconds)
        if len(searches) == 2:
            stop.set()
        return best_choice(program, start, settings, stop)

    monkeypatch.setattr(module, "best_choice", stopped_in_second)
    levers = pull_levers(PLAN, STORY, 10.0, stop=stop)
    assert len(searches) == 2
    assert levers.levers == ()
    assert list(levers.not_tried) == NAMES


def test_a_stop_before_the_first_lever_tries_none() -> None:
    stop = Event()
    stop.set()
    began = time.monotonic()
    levers = pull_levers(PLAN, STORY, 60.0, stop=stop)
    assert levers.levers == ()
    assert list(levers.not_tried) == NAMES
    assert time.monotonic() - began < 20


def test_when_the_time_is_over_only_audits_are_still_made() -> None:
    levers = pull_levers(PLAN, STORY, 1e-9)
    assert list(levers.not_tried) == SEARCHED
    assert {lever.what for lever in levers.levers} == set(NAMES) - set(SEARCHED)
