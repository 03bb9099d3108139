"""The N-th step of writing fails: opening, writing, settling on the disk, taking the place."""

import io
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest


class Steps:
    """Counts the steps of writing in some folders; those from ``first`` to ``last`` fail."""

    def __init__(
        self, folders: tuple[Path, ...], fault: int = 0, first: int = 0, last: int = 0
    ) -> None:
        """Let no step fail unless said otherwise."""
        self.folders, self.fault, self.first, self.last = folders, fault, first, last
        self.taken = 0

    def take(self, path: Any) -> None:
        """Take a step with a file; raises ``OSError`` when it is one that fails."""
        if not any(Path(path).is_relative_to(folder) for folder in self.folders):
            return
        self.taken += 1
        if self.first <= self.taken <= self.last:
            raise OSError(self.fault, os.strerror(self.fault))


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
def failing(steps: Steps) -> Iterator[Steps]:
    """Let steps fail where the system would say so."""
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
