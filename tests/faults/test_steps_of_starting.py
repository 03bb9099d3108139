"""Whichever child process or thread cannot be started, there is an answer or a reason."""

import errno
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from capacity.commands.exits import Exit
from capacity.slots.search.searching import Incumbent
from tests.faults.commands import DISTINCT, Command, done_here, faults_of
from tests.faults.failing_steps import Steps, raising, starting

FOR_EVER = 10**6
MOST_STARTS = 50
# What a plan on paper starts, a plan in files starts too.
ENDING = {
    name: command
    for name, command in DISTINCT.items()
    if not command.stays and name != "plan, on paper"
}


def no_thread() -> None:
    raise RuntimeError("can't start new thread")


def no_memory() -> None:
    raise MemoryError


FAULTS: dict[str, tuple[Callable[[], None], ...]] = {
    "process": (raising(errno.EAGAIN), raising(errno.ENOMEM)),
    "thread": (no_thread, no_memory),
}


@pytest.mark.long
@pytest.mark.parametrize("what", FAULTS)
@pytest.mark.parametrize("lasts", [False, True], ids=["one start", "all from then on"])
@pytest.mark.parametrize("command", ENDING.values(), ids=ENDING)
def test_what_cannot_be_started_loses_nothing(
    command: Command,
    what: str,
    lasts: bool,
    here: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    if command.name == "scenarios" and what == "thread":
        pytest.skip("threads of the standard library's own pool would die of it, unheard")
    if command.makes_a_plan:  # by both sides of the search, until the time is up
        monkeypatch.setattr(Incumbent, "is_proven", lambda self, gap: False)
        monkeypatch.setattr(Incumbent, "is_proven_to_the_cent", False)
    for number in range(1, MOST_STARTS):
        steps = Steps(FAULTS[what][number % 2], number, FOR_EVER if lasts else number)
        before = threading.active_count()
        with starting(steps, what):
            ended = done_here(command, capsys)
        assert faults_of(command, ended, here, here.parent / "temporary") == []
        assert threading.active_count() <= before
        for path in here.iterdir():
            path.unlink()
        if steps.taken < number:
            assert ended.code == Exit.PLANNED
            return
    raise AssertionError("it starts without end")
