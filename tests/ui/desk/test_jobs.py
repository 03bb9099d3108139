"""Long work goes on outside the page, once, and ends when nobody looks at it any more."""

import threading
import time
from threading import Event

import pytest

from capacity.errors import AuditError
from capacity.plans.outcome import OutOfTime, Planned, Progress
from capacity.settings import Settings
from tests.ui.ways_through import SAMPLES
from ui.desk.board import MOST_VISITORS, Board
from ui.desk.desk import Desk
from ui.desk.job import TURNS, Job, State, stop_when_gone
from ui.desk.opened_workbook import opened_from_path
from ui.desk.plan_job import PLAN, Result, is_outdated, keep_improvements, result_of, start_plan
from ui.desk.turns import Turns

SOON = 10.0


def until_stopped(tell, stop: Event):
    """Work that goes on until it is stopped."""
    tell("begun")
    assert stop.wait(SOON)
    return "the best so far"


def wait_for(what) -> None:
    give_up = time.monotonic() + SOON
    while not what():
        assert time.monotonic() < give_up
        time.sleep(0.01)


@pytest.fixture
def desk() -> Desk:
    desk = Desk("secret")
    desk.open(opened_from_path(SAMPLES / "tiny.xlsx"))
    return desk


def test_work_goes_on_in_another_thread_and_tells_how_it_goes():
    seen = []
    job = Job(lambda tell, stop: seen.append(threading.current_thread()) or tell("a") or "done", 1)
    job.join(SOON)
    assert seen != [threading.current_thread()]
    assert (job.state, job.answer, job.words) == (State.DONE, "done", ("a",))


def test_stopped_work_keeps_its_best():
    job = Job(until_stopped, 60)
    wait_for(lambda: job.words)
    assert job.is_live
    job.stop()
    assert job.is_stopping or not job.is_live
    job.join(SOON)
    assert (job.state, job.answer) == (State.DONE, "the best so far")
    assert not job.is_stopping


@pytest.mark.parametrize(
    ("fault", "told"),
    [(AuditError(["line one"]), "line one"), (ZeroDivisionError("oh"), "ZeroDivisionError: oh")],
)
def test_work_that_breaks_down_says_why(fault, told):
    def work(tell, stop):
        raise fault

    job = Job(work, 1)
    job.join(SOON)
    assert (job.state, job.failure, job.answer) == (State.FAILED, told, None)


def test_more_work_than_there_are_turns_waits_and_can_be_given_up():
    turns = Turns(1)
    first = Job(until_stopped, 60, turns=turns)
    wait_for(lambda: first.words)
    second, third = (Job(until_stopped, 60, turns=turns) for _ in range(2))
    assert (second.state, third.state) == (State.WAITING, State.WAITING)
    assert third.seconds == 0
    third.stop()
    third.join(SOON)
    assert third.failure == "It was stopped before its turn came."
    first.stop()
    wait_for(lambda: second.words)
    second.stop()
    second.join(SOON)
    assert second.state is State.DONE


def test_three_work_at_a_time_and_a_fourth_waits_for_the_first_to_end():
    jobs = [Job(until_stopped, 60) for _ in range(3)]
    wait_for(lambda: all(job.words for job in jobs))
    for number in (1, 2):
        jobs.append(Job(until_stopped, 60))
        wait_for(lambda number=number: TURNS.waiting == number)
    jobs[1].stop()
    wait_for(lambda: jobs[3].words)
    assert jobs[4].state is State.WAITING
    for job in jobs:
        job.stop()
    for job in jobs:
        job.join(SOON)


def test_a_desk_does_one_thing_at_a_time(desk):
    first = desk.start("one", None, until_stopped, 60)
    assert desk.start("one", None, until_stopped, 60) is None
    assert desk.start("other", None, until_stopped, 60) is None
    assert desk.job is first
    first.stop()
    first.join(SOON)
    second = desk.start("other", None, lambda tell, stop: "second", 60)
    second.join(SOON)
    assert desk.answer("one").value == "the best so far"
    assert desk.answer("other").value == "second"
    assert desk.answer("other").number > desk.answer("one").number


def test_many_clicks_at_once_begin_one_job(desk):
    begun = []
    clicks = [
        threading.Thread(target=lambda: begun.append(desk.start("one", None, until_stopped, 60)))
        for _ in range(8)
    ]
    for click in clicks:
        click.start()
    for click in clicks:
        click.join()
    (job,) = (one for one in begun if one is not None)
    job.stop()
    job.join(SOON)


def test_another_workbook_stops_the_work_and_clears_the_answers(desk):
    desk.start(PLAN, desk.opened, lambda tell, stop: OutOfTime(0.0), 60).join(SOON)
    assert isinstance(result_of(desk), Result)
    running = desk.start(PLAN, desk.opened, until_stopped, 60)
    wait_for(lambda: running.words)
    desk.open(desk.opened)
    running.join(SOON)
    assert not running.is_live
    assert result_of(desk) is None
    assert desk.job is None


def test_a_changed_workbook_keeps_the_plan_and_says_that_it_is_older(desk):
    desk.start(PLAN, desk.opened, lambda tell, stop: OutOfTime(0.0), 60).join(SOON)
    assert not is_outdated(desk)
    desk.use(opened_from_path(SAMPLES / "tiny.xlsx"))
    assert is_outdated(desk)
    assert result_of(desk).opened is desk.original


def test_a_run_that_failed_leaves_the_last_plan(desk):
    desk.start(PLAN, desk.opened, lambda tell, stop: OutOfTime(0.0), 60).join(SOON)
    before = result_of(desk)

    def fail(tell, stop):
        raise AuditError(["no"])

    desk.start(PLAN, desk.opened, fail, 60).join(SOON)
    assert result_of(desk) == before
    assert desk.job.failure == "no"


def test_work_that_nobody_looks_at_ends_after_a_while():
    looked_at = Event()
    looked_at.set()
    job = Job(until_stopped, 60)
    watcher = stop_when_gone(job, looked_at.is_set, 0.2, look_every=0.02)
    time.sleep(0.4)
    assert job.is_live  # longer than the patience, but somebody looks
    looked_at.clear()
    job.join(SOON)
    watcher.join(SOON)
    assert job.answer == "the best so far"
    assert not watcher.is_alive()


def test_the_watcher_ends_with_the_work():
    job = Job(lambda tell, stop: "done", 1)
    watcher = stop_when_gone(job, lambda: True, 5, look_every=0.02)
    watcher.join(SOON)
    assert not watcher.is_alive()


def test_a_desk_is_looked_at_while_any_of_its_browsers_is_there(desk):
    desk.sessions.update({"one", "two"})
    assert desk.is_looked_at(lambda session: session == "two")
    assert not desk.is_looked_at(lambda session: False)


def test_a_board_hands_out_desks_by_secrets_that_cannot_be_guessed_or_chosen():
    board = Board()
    one, other = board.desk(None), board.desk(None)
    assert one is not other
    assert board.desk(one.id) is one
    assert len(one.id) >= 22  # 128 bits
    chosen = board.desk("chosen by somebody")
    assert chosen.id != "chosen by somebody"


def test_a_board_clears_away_what_nobody_uses(monkeypatch):
    monkeypatch.setattr("ui.desk.board.MOST_DESKS", 3)
    board = Board()
    desks = [board.desk(None) for _ in range(3)]
    for one in desks:
        one.changed()
    busy = desks[0].start("one", None, until_stopped, 60)
    monkeypatch.setattr("ui.desk.board.MOST_VISITORS", 1)
    visitors = [board.desk(None) for _ in range(20)]
    assert board.desk(visitors[-1].id) is visitors[-1]
    assert board.desk(visitors[0].id) is not visitors[0]
    # Nobody who only looks in pushes out anybody's work.
    assert [board.desk(one.id) for one in desks] == desks
    monkeypatch.setattr("ui.desk.board.IDLE_SECONDS", 0.0)
    board.desk(None)
    assert board.desk(desks[0].id) is desks[0]  # at work
    assert board.desk(desks[1].id) is not desks[1]
    board.end_all()
    busy.join(SOON)
    assert not busy.is_live


def test_two_hundred_visits_take_nobodys_work_away():
    board = Board()
    at_work = [board.desk(None) for _ in range(5)]
    for desk in at_work:
        desk.changed()
    for _ in range(2 * MOST_VISITORS):
        board.desk(None)
    assert [board.desk(desk.id) for desk in at_work] == at_work


def test_only_improvements_and_the_latest_word_are_kept():
    words: list[object] = []
    for seconds, money in enumerate([9.0, 9.0, 9.0, 5.0, 5.0, 5.0, 5.0]):
        keep_improvements(words, Progress(float(seconds), 0, money, None, None, "rounds"))
    assert [(word.seconds, word.money) for word in words] == [(0, 9), (2, 9), (3, 5), (6, 5)]


def test_a_run_stopped_before_its_first_plan_leaves_the_last_plan(desk, monkeypatch):
    first = start_plan(desk, Settings(seconds=20))
    first.join(SOON)
    before = result_of(desk)
    assert isinstance(before.outcome, Planned)
    monkeypatch.setattr("ui.desk.plan_job.plan", lambda *a, **named: OutOfTime(0.1))
    second = start_plan(desk, Settings(seconds=20))
    second.join(SOON)
    assert result_of(desk) == before
