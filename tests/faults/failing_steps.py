"""Something goes wrong at the N-th step: of writing, of printing, of starting what works beside."""

import io
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

ANYWHERE = (Path("/"),)


class Steps:
    """Counts steps, those of writing in some folders; from the ``first`` to the ``last`` it fails.

    ``go_wrong`` raises what the system would, or does what somebody else does just then.
    """

    def __init__(
        self,
        go_wrong: Callable[[], object] = lambda: None,
        first: int = 0,
        last: int = 0,
        folders: tuple[Path, ...] = ANYWHERE,
    ) -> None:
        """Let no step fail unless said otherwise."""
        self.folders, self.go_wrong, self.first, self.last = folders, go_wrong, first, last
        self.taken = 0

    def take(self, path: Any = "/") -> None:
        """Take a step, with a file; it may be one that fails."""
        if not any(Path(path).is_relative_to(folder) for folder in self.folders):
            return
        self.taken += 1
        if self.first <= self.taken <= self.last:
            self.go_wrong()


def raising(number: int) -> Callable[[], None]:
    """Return what raises the system's fault of a number."""

    def fail() -> None:
        raise OSError(number, os.strerror(number))

    return fail


def signalling(name: str, times: int = 1) -> Callable[[], None]:
    """Return what sends this process a signal, so many times."""

    def send() -> None:
        for _ in range(times):
            signal.raise_signal(getattr(signal, name))

    return send


class _Written:
    """A file that is written to in steps."""

    def __init__(self, file: Any, path: Path, steps: Steps) -> None:
        self._file, self._path, self._steps = file, path, steps

    def __enter__(self) -> "_Written":
        return self

    def __exit__(self, *fault: object) -> None:
        self._file.close()

    def write(self, content: bytes) -> int:
        """Write a half before it fails, as a disk does that gets full."""
        self._file.write(content[: len(content) // 2])
        self._steps.take(self._path)
        return int(self._file.write(content[len(content) // 2 :]))

    def flush(self) -> None:
        self._steps.take(self._path)
        self._file.flush()

    def fileno(self) -> int:
        return int(self._file.fileno())


@contextmanager
def writing(steps: Steps) -> Iterator[Steps]:
    """Let steps of writing fail: opening, writing, flushing, settling, taking the place."""
    opens, settles, replaces = io.open, os.fsync, os.replace
    last: list[Path] = []

    def opening(path: Any, mode: str = "r", *more: Any, **named: Any) -> Any:
        if isinstance(path, int) or ("x" not in mode and "w" not in mode):  # a pipe, or read
            return opens(path, mode, *more, **named)
        steps.take(path)
        last[:] = [Path(path)]
        return _Written(opens(path, mode, *more, **named), Path(path), steps)

    def settling(number: Any) -> None:
        steps.take(last[0])
        settles(number)

    def replacing(source: Any, target: Any, **named: Any) -> None:
        steps.take(target)
        replaces(source, target, **named)

    with pytest.MonkeyPatch.context() as patches:
        patches.setattr(io, "open", opening)
        patches.setattr(os, "fsync", settling)
        patches.setattr(os, "replace", replacing)
        yield steps


class _Printed(io.StringIO):
    """A stream that is printed to in steps."""

    def __init__(self, steps: Steps) -> None:
        super().__init__()
        self._steps = steps

    def write(self, text: str) -> int:
        self._steps.take()
        return super().write(text)


@contextmanager
def printing(steps: Steps, stream: str) -> Iterator[io.StringIO]:
    """Let steps of printing to a stream fail; what got through is in it."""
    with pytest.MonkeyPatch.context() as patches:
        printed = _Printed(steps)
        patches.setattr(sys, stream, printed)
        yield printed


@contextmanager
def starting(steps: Steps, what: str) -> Iterator[Steps]:
    """Let starts of a ``process`` or a ``thread`` fail."""
    kind, name = {
        "process": (subprocess.Popen, "__init__"),
        "thread": (threading.Thread, "start"),
    }[what]
    starts = getattr(kind, name)

    def start(self: Any, *arguments: Any, **named: Any) -> None:
        steps.take()
        starts(self, *arguments, **named)

    with pytest.MonkeyPatch.context() as patches:
        patches.setattr(kind, name, start)
        yield steps
