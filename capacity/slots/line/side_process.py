"""The coordinator's end of the line to the sides of the search."""

import contextlib
import io
import pickle
import queue
import subprocess
import threading
from types import TracebackType
from typing import Self, cast

from capacity.child_process import out_of_reach, python_command
from capacity.slots.line.ended_early import how_it_died
from capacity.slots.line.naming import FINDING, finding_sides, kind_of, task_of
from capacity.slots.line.reports import (
    Begun,
    DaysBound,
    Failed,
    FoundChoice,
    GoodPlan,
    Report,
    Task,
)

# Of what a side writes to its error stream, so much of the end is kept.
MOST_BYTES_OF_ERRORS = 4096
SECONDS_FOR_LAST_WORDS = 1.0

# Which side speaks, and what it says; None is its end.
Word = tuple[str, Report | None]
# What a side is told after its task.
Told = FoundChoice | GoodPlan | Begun | DaysBound


class SideProcess:
    """A side as a child process, with a thread to write to it and one to listen.

    The coordinator never waits for a child: a task is larger than a pipe holds, and a child
    takes a second to get ready.
    """

    def __init__(self, side: str, task: Task, heard: queue.SimpleQueue[Word]) -> None:
        """Start the child and hand it the task."""
        self.side, self._heard = side, heard
        self._ending = False
        # A session of its own, so that Ctrl-C reaches the coordinator alone.
        self._child = subprocess.Popen(
            python_command("capacity.slots.search.side", side),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            **out_of_reach(),
        )
        self._outbox: queue.SimpleQueue[Task | Told | None] = queue.SimpleQueue()
        self._last_errors = b""
        self.send(task)
        self._reader = threading.Thread(target=self._keep_errors, daemon=True)
        self._threads = [
            self._reader,
            *(threading.Thread(target=work, daemon=True) for work in (self._write, self._listen)),
        ]
        try:
            for thread in self._threads:
                thread.start()
        except (RuntimeError, MemoryError):  # there is no memory left for a thread
            self.end()
            raise

    def send(self, message: Task | Told) -> None:
        """Send a message as soon as the child takes it."""
        self._outbox.put(message)

    def end(self) -> None:
        """End the child, whatever it is doing, and leave nothing of it behind."""
        self._ending = True
        self._child.kill()
        self._child.wait()
        self._outbox.put(None)
        for thread in self._threads:
            if thread.ident is not None:  # it has begun
                thread.join()
        for stream in (self._child.stdin, self._child.stdout, self._child.stderr):
            if stream is not None:
                try:
                    stream.close()
                except BrokenPipeError:
                    continue  # words that it will not hear any more

    def _write(self) -> None:
        assert self._child.stdin is not None
        while (message := self._outbox.get()) is not None:
            try:
                pickle.dump(message, self._child.stdin)
                self._child.stdin.flush()
            except (BrokenPipeError, ValueError):
                return  # the side has ended; its last word is on its way
            except MemoryError:
                self._child.kill()  # it would wait for ever
                return

    def _listen(self) -> None:
        assert self._child.stdout is not None
        try:
            while True:
                self._heard.put((self.side, pickle.load(self._child.stdout)))
        except MemoryError:
            self._heard.put((self.side, Failed("there was no memory left to hear it")))
            self._heard.put((self.side, None))
        except (EOFError, OSError, ValueError, pickle.UnpicklingError):
            if self._child.wait() != 0 and not self._ending:
                self._reader.join(timeout=SECONDS_FOR_LAST_WORDS)
                why = how_it_died(self._child.returncode)
                details = self._last_errors.decode(errors="replace").strip()
                self._heard.put((self.side, Failed(why, details)))
            self._heard.put((self.side, None))

    def _keep_errors(self) -> None:
        """Keep the last of what the child and its libraries write to their error stream."""
        errors = cast(io.BufferedReader, self._child.stderr)
        with contextlib.suppress(OSError, ValueError):
            while chunk := errors.read1(MOST_BYTES_OF_ERRORS):
                self._last_errors = (self._last_errors + chunk)[-MOST_BYTES_OF_ERRORS:]


def started(side: str, task: Task, heard: queue.SimpleQueue[Word]) -> SideProcess | None:
    """Start a side; None where that cannot be done, which is then heard as its last words."""
    try:
        return SideProcess(side, task, heard)
    except (OSError, RuntimeError, MemoryError) as fault:
        # No process or thread more may be started, or no memory is left.
        why = getattr(fault, "strerror", None) or str(fault) or "no memory"
        heard.put((side, Failed(f"it could not be started ({why})")))
        heard.put((side, None))
        return None


class Sides:
    """Sides of one task, each begun with its own form of it; their words arrive in one queue.

    Children rather than threads: a solver deep in its work can always be ended, and the
    compiled rounds and the proof have cores of their own. Not ``multiprocessing``, which would run
    a caller's unguarded script again in each child.
    """

    def __init__(self, task: Task, *first: str) -> None:
        """Start the sides ``first``, then those that find plans, and hand them the task."""
        self.words: queue.SimpleQueue[Word] = queue.SimpleQueue()
        self._all: list[SideProcess] = []
        finding = finding_sides(task.settings.finding)
        self.are_several = len(finding) > 1
        self.running = {*first, *finding}
        for side in (*first, *finding):
            own = task_of(side, task, len(finding))
            if (process := started(side, own, self.words)) is not None:
                self._all.append(process)

    def __enter__(self) -> Self:
        """Return the sides themselves."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End all sides."""
        for side in self._all:
            side.end()

    @property
    def are_finding(self) -> bool:
        """Return whether any side still looks for plans."""
        return any(kind_of(side) == FINDING for side in self.running)

    def pass_on(self, word: FoundChoice | Begun | DaysBound, told_by: str) -> None:
        """Tell the other sides what one side told."""
        for side in self._all:
            if side.side != told_by and side.side in self.running:
                side.send(word)

    def hand_round(self, plan: GoodPlan, told_by: str) -> None:
        """Hand a good plan to the sides that find plans, but the one it is from."""
        for side in self._all:
            is_finding = kind_of(side.side) == FINDING and side.side in self.running
            if is_finding and side.side != told_by:
                side.send(plan)
