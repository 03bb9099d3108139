"""One run of the command in a process of its own, held against what it may take and say."""

import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from capacity.child_process import python_command
from capacity.commands.exits import Exit

MOST_CPU_SECONDS = 20 + 5
"""What a file may take to be read, and what the command takes to start (2 to 3 s measured)."""

MOST_BYTES = 2**30
MOST_SAID = 5_000_000
SECONDS_UNTIL_KILLED = 240.0
READ_OR_REFUSED = {Exit.PLANNED, Exit.INPUT_ERRORS, Exit.USAGE}
ANSWERED_OR_REFUSED = READ_OR_REFUSED | {Exit.IMPOSSIBLE, Exit.OUT_OF_TIME}


@dataclass(frozen=True, slots=True)
class Run:
    """How a run ended, and what it and all its children took.

    ``cpu_seconds`` is the sum over the processes, ``bytes`` the resident memory of the largest;
    ``left`` names the files that were left behind.
    """

    code: int
    said: str
    cpu_seconds: float
    bytes: int
    left: tuple[str, ...] = ()

    def faults(self, codes: set[Exit] | None = None) -> list[str]:
        """Return what is wrong with it, in words."""
        wrong = []
        if self.code not in (READ_OR_REFUSED if codes is None else codes):
            wrong.append(f"ended with {self.code}")
        if "Traceback" in self.said:
            wrong.append("said a traceback")
        if self.cpu_seconds > MOST_CPU_SECONDS:
            wrong.append(f"took {self.cpu_seconds:.1f} s of processor time")
        if self.bytes > MOST_BYTES:
            wrong.append(f"took {self.bytes / 2**30:.2f} GiB")
        if len(self.said) > MOST_SAID:
            wrong.append(f"said {len(self.said):,} characters")
        if raw := {mark for mark in self.said if not (mark.isprintable() or mark in "\n\r")}:
            wrong.append(f"wrote {sorted(map(ascii, raw))} raw")
        if self.left:
            wrong.append(f"left {self.left} behind")
        if self.code == Exit.INPUT_ERRORS and "error" not in self.said:
            wrong.append("refused without an error")
        return [f"{one}: {self.said[-600:]}" for one in wrong]


def run(*arguments: str | Path) -> Run:
    """Run the command with these arguments, away from where anything of value stands."""
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryFile() as said:
        child = subprocess.Popen(
            [sys.executable, "-I", "-S", "-c", _MEASURED, *_command(arguments)],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=said,
            cwd=folder,
            env={**os.environ, "PYTHONIOENCODING": "utf-8"},
            start_new_session=True,
        )
        try:
            told, _ = child.communicate(timeout=SECONDS_UNTIL_KILLED)
        except subprocess.TimeoutExpired:
            os.killpg(child.pid, signal.SIGKILL)
            return Run(-signal.SIGKILL, "(it did not end)", SECONDS_UNTIL_KILLED, 0)
        said.seek(0)
        text = said.read().decode("utf-8", errors="replace")
        left = tuple(sorted(path.name for path in Path(folder).iterdir()))
    code, seconds, kilobytes = told.split()
    return Run(int(code), text, float(seconds), int(kilobytes) * 1024, left)


def _command(arguments: Iterable[str | Path]) -> list[str]:
    return python_command("capacity", *map(str, arguments))


_MEASURED = """
import os, subprocess, sys
child = subprocess.Popen(sys.argv[1:], stdout=2)
_, status, took = os.wait4(child.pid, 0)
print(os.waitstatus_to_exitcode(status), took.ru_utime + took.ru_stime, took.ru_maxrss)
"""
"""Started by a small process: a child's memory begins with that of whoever starts it."""
