"""The best plan so far on disk while work goes on: not even kill -9 loses it."""

import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from threading import Condition, Thread

from capacity.errors import OutputError

Writer = Callable[[Path], None]
"""Writes a file whole or not at all; raises ``OutputError``."""

LEAST_SECONDS_BETWEEN = 3.0
TIMES_OF_A_WRITE = 50.0
"""So long after a write, in times of what it took, comes the next: writing takes 2 % at most."""


class SavedMeanwhile:
    """Saves what it holds every few seconds, by a thread, in the first place that takes it.

    The file is whole at any moment. A place that takes nothing is no fault: it is the final
    files that somebody asked for.
    """

    def __init__(self, places: Callable[[], Iterator[Path]]) -> None:
        """Begin with nothing saved; ``places`` goes through names not in use."""
        self.path: Path | None = None
        self._places = places
        self._changed = Condition()
        self._waiting: Writer | None = None
        self._is_over = False
        self._due = time.monotonic() + LEAST_SECONDS_BETWEEN
        self._thread: Thread | None = None

    def hold(self, writer: Writer) -> None:
        """Save this as soon as it is time; what waited before is out of date."""
        with self._changed:
            self._waiting = writer
            self._changed.notify()
            if self._thread is not None or self._is_over:
                return
            thread = Thread(target=self._save_in_turn, daemon=True)
            with suppress(RuntimeError, MemoryError):  # no room for a thread: then no such file
                thread.start()
                self._thread = thread

    def end(self) -> None:
        """Save no more; a write that goes on is waited for. The file stays until removed."""
        with self._changed:
            self._is_over = True
            self._changed.notify()
        if self._thread is not None:
            self._thread.join()

    def remove(self) -> None:
        """Save no more, and take the file away."""
        self.end()
        if self.path is not None:
            with suppress(OSError):
                self.path.unlink(missing_ok=True)
            self.path = None

    def replaced_by(self, path: Path) -> None:
        """Give the file away that is at ``path`` now; one that was saved elsewhere goes."""
        if self.path == path:
            self.path = None
        self.remove()

    def _save_in_turn(self) -> None:
        while (writer := self._next()) is not None:
            began = time.monotonic()
            with suppress(Exception):  # the work goes on, and says at its end what is wrong
                self._save(writer)
            took = time.monotonic() - began
            self._due = time.monotonic() + max(LEAST_SECONDS_BETWEEN, TIMES_OF_A_WRITE * took)

    def _next(self) -> Writer | None:
        """Wait until something is due to be saved; None at the end."""
        with self._changed:
            while not self._is_over:
                left = self._due - time.monotonic()
                if self._waiting is not None and left <= 0:
                    writer, self._waiting = self._waiting, None
                    return writer
                self._changed.wait(None if self._waiting is None else left)
            return None

    def _save(self, writer: Writer) -> None:
        for path in self._places() if self.path is None else (self.path,):
            try:
                writer(path)
            except OutputError:
                continue
            self.path = path
            return
