"""Measures are looked at however short the time is, and searched for the same time each."""

import time
from dataclasses import replace
from threading import Event
from typing import Any

import pytest

from capacity.errors import TooLargeError
from capacity.facts import Base, Closure
from capacity.plans.audit import Audit, audit
from capacity.plans.plan import Plan
from capacity.questions.asking.searching import Found, best_choice
from capacity.questions.asking.standing_plan import standing_plan
from capacity.questions.overtime import measures as module
from capacity.questions.overtime.measures import How, Measure, try_measures
from capacity.questions.overtime.trials import attempts_of
from capacity.reports.overtime.wording import tried_in_words
from capacity.settings import Settings
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
ATTEMPTS = attempts_of(PLAN, STORY, lambda names: standing_plan(STORY, PLAN, may_move=names))
# A check that is moved is named with its place once that is found.
ASKED = [attempt.what for attempt in ATTEMPTS]
NAMES = [trial.what for trial in (attempt.make() for attempt in ATTEMPTS) if trial is not None]
SEARCHED = [attempt.what for attempt in ATTEMPTS if attempt.search]


def test_all_are_tried_when_nobody_stops() -> None:
    told: list[Measure] = []
    measures = try_measures(STORY, PLAN, Settings(seconds=10.0), on_measure=told.append)
    assert measures.not_tried == ()
    # A first look at each, then those that can be searched are told once more.
    assert [measure.what for measure in told[: len(NAMES)]] == NAMES
    assert sorted(measure.what for measure in told[len(NAMES) :]) == sorted(SEARCHED)
    assert {m.what for m in measures.measures if m.how is How.SEARCHED_ANEW} == set(SEARCHED)
    assert sorted(measure.what for measure in measures.measures) == sorted(NAMES)
    # One head, one team, two checks moved and two bays, of which head and bays are searched.
    assert (len(NAMES), len(SEARCHED)) == (6, 3)


def test_every_search_has_the_same_time_and_seed(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []

    def noted(program: Any, start: Any, settings: Any, stop: Any) -> Found:
        asked.append((settings.seconds, settings.seed))
        return best_choice(program, start, settings, stop)

    monkeypatch.setattr(module, "best_choice", noted)
    try_measures(STORY, PLAN, Settings(seconds=40.0, seed=7))
    assert len(asked) == 1 + len(SEARCHED)
    assert len(set(asked)) == 1
    seconds, seed = asked[0]
    assert seed == 7
    assert 5.0 < seconds <= 0.9 * 40.0 / 4


@pytest.mark.parametrize("kept", [1, 3])
def test_a_stop_after_a_measure_keeps_it_and_names_the_rest(kept: int) -> None:
    stop, told = Event(), []

    def stop_at(measure: Measure) -> None:
        told.append(measure.what)
        if len(told) == kept:
            stop.set()

    measures = try_measures(STORY, PLAN, Settings(seconds=10.0), stop=stop, on_measure=stop_at)
    assert told == NAMES[:kept]
    assert sorted(measure.what for measure in measures.measures) == sorted(NAMES[:kept])
    assert list(measures.not_tried) == ASKED[kept:]


def test_a_search_that_is_cut_short_is_not_compared(monkeypatch: pytest.MonkeyPatch) -> None:
    stop, searches = Event(), []

    def stopped_in_second(program: Any, start: Any, settings: Any, stop: Event) -> Found:
        searches.append(settings.seconds)
        if len(searches) == 2:  # the first is the one without any measure
            stop.set()
        return best_choice(program, start, settings, stop)

    monkeypatch.setattr(module, "best_choice", stopped_in_second)
    measures = try_measures(STORY, PLAN, Settings(seconds=10.0), stop=stop)
    assert len(searches) == 2
    assert {measure.what for measure in measures.measures} == set(NAMES)
    assert {m.what for m in measures.measures if m.how is How.FIRST_LOOK} == set(SEARCHED)
    assert measures.not_tried == ()


def test_a_stop_before_the_first_measure_tries_none() -> None:
    stop = Event()
    stop.set()
    began = time.monotonic()
    measures = try_measures(STORY, PLAN, Settings(seconds=60.0), stop=stop)
    assert measures.measures == ()
    assert list(measures.not_tried) == ASKED
    assert time.monotonic() - began < 20


def test_however_short_the_time_all_are_looked_at_and_the_first_few_searched() -> None:
    settings = Settings(seconds=1e-9)
    few = settings.search.first_measures
    measures = try_measures(STORY, PLAN, settings)
    assert sorted(measure.what for measure in measures.measures) == sorted(NAMES)
    assert (measures.not_tried, measures.no_place) == ((), ())
    first_looks = [m.what for m in measures.measures if m.how is How.FIRST_LOOK]
    assert len(first_looks) == len(SEARCHED) - few > 0


def test_those_that_promise_most_are_searched_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """A head saves what it gives; bays that are closed long after the last check save nothing."""
    told: list[Measure] = []
    crews = closed_often(STORY).replace(crews=STORY.crews)
    try_measures(crews, PLAN, Settings(seconds=1e-9), on_measure=told.append)
    searched = [measure.what for measure in told if measure.how is How.SEARCHED_ANEW]
    first_looks = [measure for measure in told if measure.how is How.FIRST_LOOK]
    assert searched[0] == max(first_looks, key=lambda measure: measure.saves).what
    assert searched[0].startswith("one more head")


class Clock:
    """Time that goes on only where a search, or building what it searches, takes some."""

    def __init__(self) -> None:
        """Begin at nought."""
        self.now = 0.0

    def monotonic(self) -> float:
        return self.now


@pytest.mark.parametrize(
    ("building", "asked", "most"),
    [
        # Ten closures and a head to search for; by the clock 60 s, a fifth more and 5 s at most.
        (2.0, 60.0, 60.0),
        (12.0, 60.0, 77.0),
        (30.0, 60.0, 77.0),
        (50.0, 60.0, 77.0),
    ],
)
def test_the_time_is_kept_however_long_it_takes_to_get_ready(
    building: float, asked: float, most: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock, many = Clock(), closed_often(STORY)

    def slowly_built(*arguments: Any, **named: Any) -> Any:
        clock.now += building
        return standing_plan(*arguments, **named)

    def searched(program: Any, start: Any, settings: Any, stop: Any) -> Found:
        clock.now += settings.seconds
        return Found(start, None, 0, "time")

    monkeypatch.setattr(module, "time", clock)
    monkeypatch.setattr(module, "standing_plan", slowly_built)
    monkeypatch.setattr(module, "best_choice", searched)
    measures = try_measures(many, PLAN, Settings(seconds=asked))
    assert clock.now <= most
    assert measures.seconds == clock.now
    # What needs no search is tried in any case: a team and two checks moved.
    assert len(measures.measures) + len(measures.no_place) >= 3
    tried = [measure for measure in measures.measures if measure.how is How.SEARCHED_ANEW]
    assert len(tried) >= (0 if building == 50.0 else 1)
    assert (
        len(measures.measures) + len(measures.no_place) + len(measures.not_tried) == 1 + 1 + 2 + 10
    )


def closed_often(story: Base) -> Base:
    """Return the story with ten closures long after its checks are out."""
    later = [Closure("B1", day(40 + 3 * n), day(41 + 3 * n)) for n in range(10)]
    return story.replace(closures=tuple(later))


def test_a_plan_too_large_to_be_searched_has_first_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    """A year of 300 checks in 20 bays had no answer at all: its slots are too many together."""

    def too_large(base: Base, plan: Plan, may_move: Any = (), **named: Any) -> Any:
        if may_move is None:
            raise TooLargeError("712,980 slots are more than can be looked at together.")
        return standing_plan(base, plan, may_move=may_move, **named)

    monkeypatch.setattr(module, "standing_plan", too_large)
    measures = try_measures(STORY, PLAN, Settings(seconds=20.0))
    assert sorted(measure.what for measure in measures.measures) == sorted(NAMES)
    assert {m.how for m in measures.measures} == {How.SLOTS_KEPT, How.FIRST_LOOK}
    assert measures.without == measures.now
    assert "too large to be searched anew as a whole" in tried_in_words(measures)


def test_a_measure_without_a_place_is_told_apart_from_one_without_time() -> None:
    # Both must come in on the first day: neither can be moved.
    story = STORY.replace(
        checks=tuple(replace(check, latest_in=day(0)) for check in STORY.checks),
        longest_delay_days=0,
    )
    measures = try_measures(story, PLAN, Settings(seconds=20.0))
    assert list(measures.no_place) == ["C1 moved by up to 7 days", "C2 moved by up to 7 days"]
    assert measures.not_tried == ()


def test_measures_are_listed_without_building_anything(monkeypatch: pytest.MonkeyPatch) -> None:
    """In a year with 220 checks an audit a check took longer than all the time given."""
    audits = []

    def counted(base: Base, plan: Plan) -> Audit:
        audits.append(plan)
        return audit(base, plan)

    def never(names: Any) -> Any:
        raise AssertionError("nothing is built before a measure asks for it")

    monkeypatch.setattr("capacity.questions.overtime.trials.audit", counted)
    assert [attempt.what for attempt in attempts_of(PLAN, STORY, never)] == ASKED
    assert len(audits) == 1
