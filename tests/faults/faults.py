"""What befalls a command from outside while it works, by name: a row each of the matrix."""

import os
import shutil
import signal
import subprocess
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from capacity.commands.exits import Exit
from tests.faults.running import ROOT, Doing, descendants, kill, once_it_reads, sending

MEBIBYTE = 2**20
CLOCKS = str(ROOT / "tests" / "faults" / "clocks")
ANY_END = frozenset(set(Exit) - {Exit.FAULT, Exit.USAGE, Exit.IMPOSSIBLE})
"""Of the codes that are documented, those that a tiny question may end with."""

LOCKED = "folder locked"
"""The one that needs to know the folder, which is locked once the command reads."""

IN_TIME = frozenset({Exit.PLANNED, Exit.OUT_OF_TIME})
ANSWERED = frozenset({Exit.PLANNED})


def nothing(process: "subprocess.Popen[str]") -> None:
    """Leave it alone."""


@dataclass(frozen=True)
class Fault:
    """What is done before the command begins, and while it works; and how it may end."""

    codes: frozenset[int]
    do: Doing = nothing
    before: Callable[[], None] = lambda: None
    environment: Mapping[str, str] = field(default_factory=dict)
    killed_by: int = 0


def limited(name: str, most: int) -> Callable[[], None]:
    """Return what limits this process and its children."""

    def limit() -> None:
        import resource

        resource.setrlimit(getattr(resource, name), (most, most))

    return limit


def without_streams() -> None:
    """Close the standard streams."""
    for number in (0, 1, 2):
        os.close(number)


def full(number: int) -> Callable[[], None]:
    """Return what puts a stream on a disk without room."""

    def put() -> None:
        os.dup2(os.open("/dev/full", os.O_WRONLY), number)

    return put


def killing_children(which: slice, seconds: float = 3.0) -> Doing:
    """Return what kills children as they come, those of ``which``, for so long."""

    def watch(process: "subprocess.Popen[str]") -> None:
        until, seen = time.monotonic() + seconds, list[int]()
        while process.poll() is None and time.monotonic() < until:
            seen += sorted(descendants(process.pid) - set(seen))
            for child in seen[which]:
                kill(child)
            time.sleep(0.01)

    return watch


def lock(path: Path) -> None:
    """Make a file or a folder immutable."""
    subprocess.run(["chattr", "+i", path], check=True)


def unlock(path: Path) -> None:
    """Undo that."""
    subprocess.run(["chattr", "-i", path], check=True)


def can_be_locked(folder: Path) -> bool:
    """Return whether a folder can be locked here, for root too."""
    if shutil.which("chattr") is None or os.geteuid() != 0:
        return False
    tried = folder / "tried"
    tried.mkdir()
    done = subprocess.run(["chattr", "+i", tried], capture_output=True, check=False)
    if done.returncode == 0:
        unlock(tried)
    tried.rmdir()
    return done.returncode == 0


_MOMENTS = (0.0, 0.7, 2.0)
FAULTS = {
    **{
        f"{times} {name} after {seconds:g} s": Fault(
            IN_TIME, once_it_reads(sending(name, times=times), seconds)
        )
        for name, times in (("SIGINT", 1), ("SIGINT", 10), ("SIGTERM", 1), ("SIGHUP", 1))
        for seconds in _MOMENTS
    },
    **{
        f"killed after {seconds:g} s": Fault(
            ANSWERED | {-signal.SIGKILL},
            once_it_reads(sending("SIGKILL"), seconds),
            killed_by=signal.SIGKILL,
        )
        for seconds in _MOMENTS
    },
    "first child killed": Fault(ANY_END, killing_children(slice(0, 1))),
    "second child killed": Fault(ANY_END, killing_children(slice(1, 2))),
    "fourth child killed": Fault(ANSWERED, killing_children(slice(3, 4))),
    "children after the first killed": Fault(ANY_END, killing_children(slice(1, None))),
    "streams closed": Fault(ANSWERED, before=without_streams),
    "no room for the answer": Fault(frozenset({Exit.CANNOT_WRITE}), before=full(1)),
    "no room for messages": Fault(ANSWERED, before=full(2)),
    "ascii": Fault(
        ANSWERED, environment={"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"}
    ),
    **{
        f"clock {jump:+d} s {after:g} s later": Fault(
            ANSWERED,
            environment={
                "PYTHONPATH": f"{CLOCKS}{os.pathsep}{ROOT}",
                "JUMP_SECONDS": str(jump),
                "JUMP_AFTER_SECONDS": str(after),
            },
        )
        for jump in (3600, -3600)
        for after in (0.0, 1.5)
    },
    **{
        f"{most} MiB of addresses": Fault(ANY_END, before=limited("RLIMIT_AS", most * MEBIBYTE))
        for most in (100, 200, 300, 500, 700, 1200)
    },
    **{
        f"{most} open files": Fault(ANY_END, before=limited("RLIMIT_NOFILE", most))
        for most in (6, 10, 16, 30)
    },
    **{
        f"files of {most} bytes": Fault(ANY_END, before=limited("RLIMIT_FSIZE", most))
        for most in (0, 1000, 9000)
    },
    LOCKED: Fault(ANY_END),
}
