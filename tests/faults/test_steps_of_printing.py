"""Whichever print fails, for want of a reader or of room, files are there and named."""

import errno
from pathlib import Path

import pytest

from capacity.commands.exits import Exit
from tests.faults.commands import COMMANDS, Command, done_here, each
from tests.faults.failing_steps import Steps, printing, raising

pytestmark = pytest.mark.usefixtures("answered_once")
FOR_EVER = 10**6
MOST_PRINTS = 1000
ENDING = {name: command for name, command in COMMANDS.items() if not command.stays}


@pytest.mark.parametrize("fault", [errno.EPIPE, errno.ENOSPC], ids=["no reader", "no room"])
@pytest.mark.parametrize("stream", ["stdout", "stderr"])
@pytest.mark.parametrize("command", each(ENDING, "plan", "plan, on paper", "compare"))
def test_whichever_print_fails_no_file_is_lost(
    command: Command, stream: str, fault: int, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number in range(1, MOST_PRINTS):
        steps = Steps(raising(fault), number, FOR_EVER)
        with printing(steps, stream):
            ended = done_here(command, capsys)
        files = {path.name for path in here.iterdir()}
        assert files >= set(command.files)
        assert [name for name in files - set(command.files) if "-kept.json" not in name] == []
        if stream == "stdout" and steps.taken >= number:
            room = Exit.PLANNED if fault == errno.EPIPE else Exit.CANNOT_WRITE
            assert ended.code == room
            assert command.files or not command.makes_a_plan or files
            assert all(name in ended.err for name in files - set(command.files))
        else:
            assert ended.code == Exit.PLANNED
        for path in here.iterdir():
            path.unlink()
        if steps.taken < number:
            return
    raise AssertionError("it prints without end")
