"""Whichever step of writing fails, the plan and what could be written are there."""

import errno
from pathlib import Path

import pytest

from capacity.commands.exits import Exit
from capacity.commands.outputs import Outputs
from capacity.reports.kit import whole_file
from capacity.reports.kit.whole_file import write_whole
from tests.faults.commands import COMMANDS, Command, done_here, each, faults_of
from tests.faults.failing_steps import Steps, raising, signalling, writing
from tests.faults.faults import can_be_locked, lock, unlock
from tests.faults.running import PLAN_OUT

pytestmark = pytest.mark.usefixtures("answered_once")
FAULTS = (errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO, errno.EDQUOT, errno.EPERM)
A_FILE = 5  # steps: open, write, flush, settle, take the place
FOR_EVER = 10**6
SIGNALS = (("SIGINT", 1), ("SIGINT", 10), ("SIGTERM", 1), ("SIGHUP", 1))
WRITING = {name: command for name, command in COMMANDS.items() if command.files}


@pytest.mark.parametrize("lasts", [False, True], ids=["one step", "all from then on"])
@pytest.mark.parametrize("command", each(WRITING, "plan", "crews", "enquiry"))
def test_whichever_step_fails_everything_is_somewhere(
    command: Command, lasts: bool, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number in range(1, A_FILE * len(command.files) + 1):
        last = FOR_EVER if lasts else number
        steps = Steps(raising(FAULTS[number % len(FAULTS)]), number, last, (here,))
        with writing(steps):
            ended = done_here(command, capsys)
        assert steps.taken >= number, "the count of steps is too high"
        assert ended.code == Exit.CANNOT_WRITE
        assert "could not be written" in ended.err
        temporary = here.parent / "temporary"
        assert faults_of(command, ended, here, temporary) == []
        written = {path.suffix for folder in (here, temporary) for path in folder.iterdir()}
        assert not command.makes_a_plan or ".json" in written
        for path in (*here.iterdir(), *temporary.iterdir()):
            path.unlink()


@pytest.mark.parametrize("command", each(WRITING, "plan", "compare", "risk"))
def test_a_signal_at_any_step_leaves_all_or_says_that_there_is_nothing(
    command: Command, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number in range(1, A_FILE * len(command.files) + 1):
        name, times = SIGNALS[number % len(SIGNALS)]
        steps = Steps(signalling(name, times), number, number, (here,))
        with writing(steps):
            ended = done_here(command, capsys)
        assert steps.taken >= number, "the count of steps is too high"
        assert faults_of(command, ended, here) == []
        if ended.code != Exit.PLANNED:
            assert ended.code == Exit.OUT_OF_TIME
            assert not command.makes_a_plan
            assert list(here.iterdir()) == []
        for path in here.iterdir():
            path.unlink()


def test_a_file_that_is_not_replaced_is_as_it_was_with_its_link_and_mode(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    true, link = here.parent / "far" / "true.json", here / "a.json"
    true.parent.mkdir()
    link.symlink_to(true)
    command = Command("plan", (PLAN_OUT, str(link)), ("a.json",), makes_a_plan=True)
    for number in range(1, A_FILE + 2):
        true.write_bytes(b"old")
        true.chmod(0o640)
        with writing(Steps(raising(errno.ENOSPC), number, number, (true.parent,))):
            code = done_here(command, capsys).code
        is_replaced = number > A_FILE
        assert code == (Exit.PLANNED if is_replaced else Exit.CANNOT_WRITE)
        assert link.is_symlink()
        assert true.stat().st_mode & 0o777 == 0o640
        assert (true.read_bytes() == b"old") is not is_replaced
        assert list(true.parent.iterdir()) == [true]
        kept = here / "a-kept.json"
        assert kept.exists() is not is_replaced
        kept.unlink(missing_ok=True)


@pytest.mark.parametrize("way", ["open elsewhere", "immutable"])
@pytest.mark.parametrize("command", each(WRITING, "plan"))
def test_a_file_that_is_locked_meanwhile_is_as_it_was_and_the_new_one_beside_it(
    command: Command, way: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """As Windows refuses to replace a file that a program has open, and Linux an immutable one."""
    if way == "immutable" and not can_be_locked(here):
        pytest.skip("no file can be locked here by chattr +i")
    first = here / command.files[0]
    first.write_bytes(b"old")
    if way == "immutable":
        steps = Steps(lambda: lock(first), 1, 1, (here,))
    else:
        steps = Steps(raising(errno.EACCES), A_FILE, A_FILE, (here,))
    with writing(steps):
        ended = done_here(command, capsys)
    if way == "immutable":
        unlock(first)
    assert ended.code == Exit.CANNOT_WRITE
    assert first.read_bytes() == b"old"
    first.unlink()
    assert faults_of(command, ended, here) == []
    assert (here / f"{first.stem}-kept{first.suffix}").exists()


def test_a_name_that_this_system_cannot_write_has_a_plain_one_in_its_place(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Names of files are ASCII here, as Python takes them to be under some settings."""
    writes = whole_file._replace

    def refuses(content: bytes, path: Path) -> None:
        path.name.encode("ascii")
        writes(content, path)

    monkeypatch.setattr(whole_file, "_replace", refuses)
    monkeypatch.setattr("os.fsencode", lambda name: str(name).encode("ascii"))
    outputs = Outputs(plan=lambda path: write_whole(b"plan", path))
    outputs.write_plan(here / "Pläne.json")
    assert outputs.end(Exit.PLANNED) == Exit.CANNOT_WRITE
    said = capsys.readouterr()
    assert "Choose a name of plain letters" in said.err
    assert (here / "Pl_ne-kept.json").read_bytes() == b"plan"
    assert "Pl_ne-kept.json" in said.out
