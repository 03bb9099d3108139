"""The folder of compiled code is full, locked or damaged, or its writer is killed: still a plan."""

import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from capacity.commands.exits import Exit
from tests.faults import running
from tests.faults.faults import unlock
from tests.faults.running import PLAN_OUT, TINY, Ended, run

pytestmark = [
    pytest.mark.long,
    pytest.mark.skipif(sys.platform != "linux", reason="needs mounts, chattr and /proc"),
]
SECONDS, SECONDS_FOR_ONE = 20, 10
"""To compile all of the search, and more than its first function takes."""

TOLD = "could not be kept for the next run"


def planned(
    folder: Path, kept: Path, do: running.Doing = lambda process: None, seconds: int = SECONDS
) -> Ended:
    """Plan with both sides of the search, with a folder for compiled code; there is a plan."""
    (folder / "plan.json").unlink(missing_ok=True)
    ended = run(
        folder,
        ("plan", TINY, "--seconds", seconds, PLAN_OUT, "plan.json"),
        do,
        NUMBA_CACHE_DIR=str(kept),
        NUMBA_CACHE_LOCATOR_CLASSES="UserProvidedCacheLocator",
    )
    assert ended.code == Exit.PLANNED, ended.err
    assert running.placed(folder / "plan.json") == 4
    return ended


@contextmanager
def small_disk(folder: Path) -> Iterator[None]:
    """Mount a disk of a few pages at a folder."""
    mount = ["mount", "-t", "tmpfs", "-o", "size=16k", "none", folder]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("no disk can be mounted here")
    try:
        yield
    finally:
        subprocess.run(["umount", folder], check=True)


def test_a_full_disk(beside_plans: Path, tmp_path: Path) -> None:
    kept = tmp_path / "kept"
    kept.mkdir()
    with small_disk(kept):
        assert TOLD in planned(beside_plans, kept, seconds=SECONDS_FOR_ONE).out


def test_a_locked_folder(beside_plans: Path, tmp_path: Path) -> None:
    kept = tmp_path / "kept"
    kept.mkdir()
    if subprocess.run(["chattr", "+i", kept], capture_output=True, check=False).returncode:
        pytest.skip("no folder can be locked here by chattr +i")
    try:
        assert TOLD in planned(beside_plans, kept, seconds=SECONDS_FOR_ONE).out
    finally:
        unlock(kept)


def test_killed_while_it_is_written_and_damaged_after_that(
    beside_plans: Path, tmp_path: Path
) -> None:
    kept = tmp_path / "kept"
    kept.mkdir()

    def kill_the_writer(process: "subprocess.Popen[str]") -> None:
        until = time.monotonic() + 60
        while process.poll() is None and not files(kept) and time.monotonic() < until:
            time.sleep(0.001)
        for child in running.descendants(process.pid):
            running.kill(child)

    killed = planned(beside_plans, kept, kill_the_writer)
    assert "its process was killed" in killed.out
    again = planned(beside_plans, kept)
    assert TOLD not in again.out
    assert "killed" not in again.out
    whole = {path: path.read_bytes() for path in files(kept)}
    assert whole
    for number, (path, body) in enumerate(sorted(whole.items())):
        path.write_bytes(body[: len(body) // 2] if number % 2 else b"\x00\xff garbage" * 50)
    assert TOLD not in planned(beside_plans, kept).out


def files(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file()]
