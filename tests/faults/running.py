"""Run the command as a process of its own, and do something to it once it has a plan."""

import json
import os
import secrets
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
TINY = ROOT / "sample_inputs" / "tiny.xlsx"
# A process of tests may have been started with Ctrl-C ignored, which children inherit. The tiny
# sample is solved at once; here its proof never counts, so that it is searched until the end.
COMMAND = """
import signal
signal.signal(signal.SIGINT, signal.default_int_handler)
for name in {ignored!r}:
    signal.signal(getattr(signal, name), signal.SIG_IGN)
if {endless!r}:
    from capacity.slots.search.searching import Incumbent
    Incumbent.is_proven = lambda self, gap: False
    Incumbent.is_proven_to_the_cent = False
from capacity.commands import saved_meanwhile
saved_meanwhile.LEAST_SECONDS_BETWEEN = {saves_after!r}
from capacity.cli import main
main()
"""
HAS_A_PLAN = " s | cost "
MOST_SECONDS = 60
MARK = "MARK_OF_A_TEST_OF_FAULTS"
VERIFY, ENQUIRY = "verify", "enquiry"
PLAN_OUT, TAKEN_OUT = "--plan-out", "--plan-out"
EARLIER, STANDING = "--plan", "--plan"
"""Names of commands and options that tests of faults use, here and nowhere else.

``PLAN_OUT`` writes the plan file, ``TAKEN_OUT`` the one of an enquiry; ``EARLIER`` is the plan
to begin with, ``STANDING`` the one that is planned anew.
"""

Doing = Callable[["subprocess.Popen[str]"], None]
"""Something that is done to a process."""


@dataclass(frozen=True)
class Ended:
    """How a command ended: its code, and what it printed to both streams."""

    code: int
    out: str
    err: str


def command(
    *arguments: object,
    endless: bool = True,
    ignored: tuple[str, ...] = (),
    saves_after: float = 0.1,
) -> list[str]:
    """Return the command line of the command in Python."""
    text = COMMAND.format(endless=endless, ignored=ignored, saves_after=saves_after)
    return [sys.executable, "-c", text, *(str(argument) for argument in arguments)]


def interrupted(
    folder: Path,
    do: Doing,
    *arguments: object,
    seen: str = HAS_A_PLAN,
    ignored: tuple[str, ...] = (),
    saves_after: float = 0.1,
) -> Ended:
    """Start a command in a folder, and do something once its error stream says what is awaited."""
    process = subprocess.Popen(
        command(*arguments, ignored=ignored, saves_after=saves_after),
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "TMPDIR": str(folder)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    try:
        assert process.stderr is not None
        before = ""
        while seen not in before and (line := process.stderr.readline()):
            before += line
        do(process)
        out, err = process.communicate(timeout=MOST_SECONDS)
    finally:
        process.kill()
    return Ended(process.returncode, out, before + err)


def sending(*names: str, times: int = 1) -> Doing:
    """Return what sends signals, again and again as long as the process is there."""

    def send(process: "subprocess.Popen[str]") -> None:
        for _ in range(times):
            for name in names:
                if process.poll() is None:
                    process.send_signal(getattr(signal, name))
            time.sleep(0.05)

    return send


def run(
    folder: Path,
    arguments: Sequence[object],
    do: Doing = lambda process: None,
    *,
    before: Callable[[], None] | None = None,
    endless: bool = True,
    saves_after: float = 0.1,
    **environment: str,
) -> Ended:
    """Run a command in a folder; something is done before it begins, and while it is there.

    Raises ``AssertionError`` when a process of it is left behind.
    """
    mark = secrets.token_hex(8)
    given = {"PYTHONPATH": str(ROOT), "TMPDIR": str(folder), MARK: mark, **environment}
    process = subprocess.Popen(
        command(*arguments, endless=endless, saves_after=saves_after),
        cwd=folder,
        env={**os.environ, **given},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        errors="replace",
        preexec_fn=before,
        start_new_session=True,
    )
    with process:
        try:
            do(process)
            out, err = process.communicate(timeout=MOST_SECONDS)
        finally:
            process.kill()
    assert are_gone(with_mark(mark)), "a process is left behind"
    return Ended(process.returncode, out, err)


def with_mark(mark: str) -> set[int]:
    """Return the processes whose environment has a mark."""
    found = set()
    for entry in Path("/proc").iterdir():
        with suppress(OSError):  # it has ended meanwhile, or is somebody else's
            if (
                entry.name.isdigit()
                and f"{MARK}={mark}".encode() in (entry / "environ").read_bytes()
            ):
                found.add(int(entry.name))
    return found


def once_it_reads(do: Doing, seconds: float = 0.0) -> Doing:
    """Return what does something so long after the command has its first child.

    Each command reads the workbook in one, and hears signals by then.
    """

    def wait(process: "subprocess.Popen[str]") -> None:
        until = time.monotonic() + MOST_SECONDS
        while process.poll() is None and not descendants(process.pid):
            assert time.monotonic() < until
            time.sleep(0.01)
        time.sleep(seconds)
        do(process)

    return wait


def descendants(process: int) -> set[int]:
    """Return the processes that a process has started, and those that they have."""
    parents = {}
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                state = (entry / "stat").read_text(encoding="utf-8")
            except OSError:
                continue  # it has ended meanwhile
            parents[int(entry.name)] = int(state.rpartition(")")[2].split()[1])
    found = {process}
    while more := {child for child, parent in parents.items() if parent in found} - found:
        found |= more
    return found - {process}


def kill(process: int) -> None:
    """Kill a process that may have ended by itself."""
    with suppress(ProcessLookupError):
        os.kill(process, signal.SIGKILL)


def are_gone(processes: set[int], seconds: float = 20.0) -> bool:
    """Return whether processes have all ended within so long; a dead one may not be buried yet."""
    until = time.monotonic() + seconds
    while left := {number for number in processes if is_alive(number)}:
        if time.monotonic() > until:
            return False
        processes = left
        time.sleep(0.05)
    return True


def is_alive(process: int) -> bool:
    """Return whether a process is there and not dead."""
    try:
        state = Path(f"/proc/{process}/stat").read_text(encoding="utf-8")
    except OSError:
        return False
    return state.rpartition(")")[2].split()[0] not in {"Z", "X"}


def placed(plan: Path) -> int:
    """Return how many placements a plan file has."""
    return len(json.loads(plan.read_text(encoding="utf-8"))["placements"])
