"""Whoever ends a search, by whatever signal and however often, has its best plan."""

import os
import signal
import time
from pathlib import Path

import pytest

from capacity.commands.exits import Exit
from capacity.stopping import A_MOMENT
from tests.faults import running
from tests.faults.running import ENQUIRY, PLAN_OUT, TINY, interrupted, sending

pytestmark = pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="needs /proc")
LONG = ("--seconds", "60")
PLANNING = ("plan", TINY, *LONG, PLAN_OUT, "plan.json", "--out", "plan.xlsx")


def files(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


@pytest.mark.parametrize(
    ("names", "times"),
    [
        pytest.param(("SIGTERM",), 1, id="SIGTERM", marks=pytest.mark.long),
        pytest.param(("SIGINT",), 10, id="ten Ctrl-C", marks=pytest.mark.long),
        pytest.param(("SIGHUP", "SIGTERM", "SIGINT"), 10, id="all of them"),
    ],
)
def test_a_signal_ends_the_search_with_its_best_plan(names, times, tmp_path) -> None:
    ended = interrupted(tmp_path, sending(*names, times=times), *PLANNING)
    assert ended.code == Exit.PLANNED, ended.err
    assert files(tmp_path) == {"plan.json", "plan.xlsx"}
    assert running.placed(tmp_path / "plan.json") == 4
    assert "written: plan.json" in ended.out
    assert "ended by a person" in ended.out
    assert ended.err.count(A_MOMENT) == 1


@pytest.mark.long
def test_a_command_without_a_terminal_goes_on_when_that_is_closed(tmp_path) -> None:
    """As ``nohup`` starts it."""

    def close(process) -> None:
        process.send_signal(signal.SIGHUP)
        time.sleep(1.0)
        assert process.poll() is None
        process.send_signal(signal.SIGTERM)

    ended = interrupted(tmp_path, close, *PLANNING, ignored=("SIGHUP",))
    assert ended.code == Exit.PLANNED
    assert files(tmp_path) == {"plan.json", "plan.xlsx"}


def test_children_of_a_killed_command_end_soon(tmp_path) -> None:
    seen: set[int] = set()

    def kill(process) -> None:
        until = time.monotonic() + 30
        while len(seen) < 2 and time.monotonic() < until:
            seen.update(running.descendants(process.pid))
            time.sleep(0.05)
        process.kill()

    ended = interrupted(tmp_path, kill, *PLANNING, saves_after=60.0)
    assert ended.code == -signal.SIGKILL
    assert len(seen) == 2
    assert running.are_gone(seen)
    assert files(tmp_path) == set()


def test_a_killed_side_leaves_the_plan(tmp_path) -> None:
    def kill(process) -> None:
        until = time.monotonic() + 30
        sides: list[int] = []
        while len(sides) < 2 and time.monotonic() < until:
            sides = sorted(running.descendants(process.pid))
            time.sleep(0.05)
        os.kill(sides[0], signal.SIGKILL)
        time.sleep(0.5)
        if process.poll() is None:
            process.send_signal(signal.SIGTERM)

    ended = interrupted(tmp_path, kill, *PLANNING)
    assert ended.code == Exit.PLANNED, ended.err
    assert running.placed(tmp_path / "plan.json") == 4
    assert "its process was killed" in ended.out
    assert files(tmp_path) == {"plan.json", "plan.xlsx"}


@pytest.mark.long
@pytest.mark.parametrize(
    "question",
    [
        ("crews", "--weeks", "1", "--out", "answer.xlsx"),
        ("risk", "--out", "answer.xlsx"),
        (ENQUIRY, "--type", "Alder 50", "--package", "Week check", "--earliest", "2027-01-04"),
    ],
    ids=lambda question: question[0],
)
def test_a_plan_that_a_question_made_first_is_kept(question, tmp_path) -> None:
    name, *options = question
    seconds = "--plan-seconds" if name == ENQUIRY else "--seconds"
    stop = sending("SIGTERM", times=3)
    ended = interrupted(tmp_path, stop, name, TINY, *options, seconds, "60")
    assert ended.code in {Exit.PLANNED, Exit.OUT_OF_TIME}, ended.err
    (kept,) = (path for path in tmp_path.iterdir() if path.suffix == ".json")
    assert running.placed(kept) == 4
    assert kept.name in ended.out
    assert (tmp_path / "answer.xlsx").exists() == (
        ended.code == Exit.PLANNED and "--out" in options
    )


def test_there_is_nothing_to_keep_before_the_workbook_is_read(tmp_path) -> None:
    def soon(process) -> None:
        until = time.monotonic() + 30
        while not running.descendants(process.pid) and time.monotonic() < until:
            time.sleep(0.02)
        sending("SIGTERM", "SIGINT", times=3)(process)

    ended = interrupted(tmp_path, soon, *PLANNING, seen="")
    assert ended.code == Exit.OUT_OF_TIME, ended.err
    assert "Stopped before there was an answer." in ended.err
    assert files(tmp_path) == set()
