"""Questions that are stopped answer with what they have, or say that they have nothing."""

import threading
from datetime import date

import pytest

import capacity
from capacity.crews.assign import assign_crews
from capacity.crews.crew_settings import CrewSettings
from capacity.errors import StoppedError
from capacity.plans.outcome import Planned
from capacity.questions.conflicts.explaining import conflicts_of
from capacity.questions.replan.replanning import replan
from capacity.questions.why.explain import explain
from capacity.reports.crews.text import crews_in_words
from capacity.settings import Settings
from capacity.stopping import ended_by
from tests.faults.running import TINY

LONG = 600.0


@pytest.fixture(scope="module")
def found() -> Planned:
    outcome = capacity.plan(capacity.read(TINY), capacity.Settings(seconds=5))
    assert isinstance(outcome, Planned)
    return outcome


@pytest.fixture(scope="module")
def base() -> capacity.Base:
    return capacity.read(TINY)


@pytest.fixture
def stop() -> threading.Event:
    stopped = threading.Event()
    stopped.set()
    return stopped


def test_conflicts_end_as_if_their_time_were_over(base, stop) -> None:
    assert conflicts_of(base, LONG, stop=stop).possible is None


def test_a_check_that_could_not_be_explained_any_more_is_no_answer(base, found, stop) -> None:
    name = base.checks[0].name
    with pytest.raises(StoppedError):
        explain(base, found.plan, Settings(seconds=LONG), check=name, stop=stop)
    assert explain(base, found.plan, Settings(seconds=LONG), check=name).whys


def test_a_replan_has_nothing_before_its_first_plan(base, found, stop) -> None:
    with pytest.raises(StoppedError):
        replan(base, found.plan, date(2027, 1, 4), capacity.Settings(seconds=LONG), stop=stop)


def test_a_replan_that_breaks_down_later_has_told_its_plan(base, found) -> None:
    told = []

    def breaks(progress: object) -> None:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        replan(
            base,
            found.plan,
            date(2027, 1, 4),
            on_progress=breaks,
            on_plan=lambda plan, of: told.append((plan, of)),
        )
    assert told
    plan, of = told[-1]
    assert capacity.audit(of, plan).broken == ()


def test_a_crew_plan_that_is_stopped_is_the_best_so_far(base, found, stop) -> None:
    staffed = assign_crews(base, found.plan, CrewSettings(weeks=2, seconds=LONG), stop=stop)
    assert staffed.audit.broken == ()
    assert crews_in_words(staffed, base)


def test_a_solver_is_ended_while_it_works() -> None:
    stop, ended = threading.Event(), threading.Event()
    with ended_by(stop, ended.set):
        assert not ended.wait(0.2)
        stop.set()
        assert ended.wait(30)
