"""What a command writes at its end: nothing that was worked out is lost for want of a place."""

import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import click

from capacity.commands.exits import Exit
from capacity.errors import OutputError
from capacity.escaped import escaped

Writer = Callable[[Path], None]
"""Writes a file whole or not at all; raises ``OutputError``."""

MOST_NAMES = 1000


class Outputs:
    """Writes files, each to where it was asked for, else to another place that is then told.

    Name the plan file first. Each file is tried by itself, so that one that cannot be written
    keeps no other back. ``plan`` writes the plan file: one is kept, though none was asked for,
    when any other file does not get where it should. Files come first, and printing last.
    """

    def __init__(self, plan: Writer | None = None) -> None:
        """Begin with nothing written."""
        self._plan = plan
        self._plan_is_safe = plan is None
        self._written: list[str] = []
        self._faults: list[str] = []

    def write_plan(self, path: Path | None) -> None:
        """Write the plan file, where one was asked for."""
        if path is not None and self._plan is not None:
            self._plan_is_safe = self._kept(path, self._plan) is not None

    def write(self, path: Path | None, writer: Writer, remark: str = "") -> None:
        """Write a file, where it was asked for; a fault of the program still leaves the plan."""
        if path is None:
            return
        try:
            kept = self._kept(path, writer, remark)
        except Exception:
            self._keep_plan(path)
            self._tell()
            raise
        if kept != path:
            self._keep_plan(path)

    def said(self, path: str) -> None:
        """Add what else was written."""
        self._written.append(path)

    def failed(self, fault: str) -> None:
        """Add what else could not be written."""
        self._faults.append(fault)

    def end(self, code: Exit) -> Exit:
        """Tell what was written and what was not, and return what to end with."""
        self._tell()
        return Exit.CANNOT_WRITE if self._faults else code

    def _kept(self, path: Path, writer: Writer, remark: str = "") -> Path | None:
        """Return where the file was written, None when it could be nowhere."""
        try:
            writer(path)
        except OutputError as fault:
            self._faults.append(str(fault))
            return self._kept_elsewhere(path, writer, remark)
        self._written.append(f"{path}{remark}")
        return path

    def _kept_elsewhere(self, path: Path, writer: Writer, remark: str = "") -> Path | None:
        for other in _other_places(path):
            try:
                writer(other)
            except OutputError:
                continue
            self._written.append(f"{other} (in place of {path}){remark}")
            return other
        self._faults.append(f"There was no other place for {path.name} either: it is lost.")
        return None

    def _keep_plan(self, beside: Path) -> None:
        if self._plan is None or self._plan_is_safe:
            return
        self._plan_is_safe = True
        for other in _other_places(beside.with_suffix(".json")):
            try:
                self._plan(other)
            except OutputError:
                continue
            self._written.append(f"{other} (the plan file, so that the plan is not lost)")
            return

    def _tell(self) -> None:
        for fault in self._faults:
            click.echo(f"error {escaped(fault)}", err=True)
        for path in self._written:
            click.echo(f"written: {path}")


def _other_places(path: Path) -> Iterator[Path]:
    """Go through names not in use: beside the file, in the working folder, among temporary ones."""
    for folder in dict.fromkeys((path.parent, Path.cwd(), Path(tempfile.gettempdir()))):
        for number in range(1, MOST_NAMES):
            last = "" if number == 1 else f"-{number}"
            other = folder / f"{path.stem}-kept{last}{path.suffix}"
            try:
                is_free = not (other.exists() or other.is_symlink())
            except OSError:
                break
            if is_free:
                yield other
                break
