"""What a command writes at its end: nothing that was worked out is lost for want of a place."""

import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

import click

from capacity.commands.exits import Exit
from capacity.commands.saved_meanwhile import SavedMeanwhile, Writer
from capacity.errors import OutputError
from capacity.escaped import escaped

MOST_NAMES = 1000
PLAN_FILE = Path("plan.json")
"""What a plan file is called that nobody gave a name."""


class Outputs:
    """Writes files, each to where it was asked for, else to another place that is then told.

    Name the plan file first. Each file is tried by itself, so that one that cannot be written
    keeps no other back. ``plan`` writes the plan file: one is kept, though none was asked for,
    when any other file does not get where it should, and when work inside ``with`` breaks down
    or is stopped. Where a file was asked for, the best plan held inside ``with`` is saved beside
    it every few seconds, for a process that is killed; at the end that file is taken away. Files
    come first, and printing last.
    """

    def __init__(self, plan: Writer | None = None, beside: Path | None = None) -> None:
        """Begin with nothing written; a plan nobody asked for is kept ``beside`` a file."""
        self._beside = beside or PLAN_FILE
        self._meanwhile = SavedMeanwhile(lambda: _other_places(self._plan_beside()))
        self._saves_meanwhile = False
        self._is_asked = beside is not None
        self._plan = plan
        self._plan_is_safe = plan is None
        self._written: list[str] = []
        self._faults: list[str] = []
        self._has_failed = False

    def __enter__(self) -> Self:
        """Do work that may break down."""
        self._saves_meanwhile = self._is_asked
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Keep the plan when the work has broken down or was stopped."""
        if error is not None:
            try:
                self.keep_plan()
            finally:
                self._tell()
        self._meanwhile.remove()

    def hold(self, plan: Writer) -> None:
        """Take what writes a better plan than the one before, not written yet."""
        self._plan, self._plan_is_safe = plan, False
        if self._saves_meanwhile:
            self._meanwhile.hold(plan)

    def write_plan(self, path: Path | None) -> None:
        """Write the plan file, where one was asked for."""
        if path is not None and self._plan is not None:
            self._meanwhile.end()
            self._plan_is_safe = self._kept(path, self._plan, saved=self._meanwhile) is not None

    def write(self, path: Path | None, writer: Writer, remark: str = "") -> None:
        """Write a file, where it was asked for; a fault of the program still leaves the plan."""
        if path is None:
            return
        try:
            kept = self._kept(path, writer, remark)
        except Exception:
            self.keep_plan(path)
            self._tell()
            raise
        if kept != path:
            self.keep_plan(path)

    def keep_plan(self, beside: Path | None = None) -> None:
        """Write the plan file though nobody asked for one, unless it is written already."""
        if self._plan is None or self._plan_is_safe:
            return
        self._plan_is_safe = True
        self._meanwhile.end()
        why, path = "the plan file, so that the plan is not lost", self._plan_beside(beside)
        try:
            self._kept_elsewhere(path, self._plan, why, saved=self._meanwhile)
        except Exception:
            self._leave_saved(self._meanwhile, why)
            raise

    def said(self, path: str) -> None:
        """Add what else was written."""
        self._written.append(path)

    def failed(self, fault: OutputError, path: Path, writer: Writer) -> None:
        """Keep elsewhere what else could not be written."""
        self._faults.append(str(fault))
        self._kept_elsewhere(path, writer, f"in place of {path}")
        self.keep_plan(path)

    def end(self, code: Exit) -> Exit:
        """Tell what was written and what was not, and return what to end with.

        Where nobody reads the answer and no file has it, the plan file is kept.
        """
        if _is_lost(sys.stdout) and not self._written:
            self.keep_plan()
        self._tell()
        return Exit.CANNOT_WRITE if self._has_failed else code

    def _plan_beside(self, beside: Path | None = None) -> Path:
        return (beside or self._beside).with_suffix(".json")

    def _kept(
        self, path: Path, writer: Writer, remark: str = "", saved: SavedMeanwhile | None = None
    ) -> Path | None:
        """Return where the file was written, None when it could be nowhere.

        ``saved`` has an earlier state of it, which is taken away once there is this one.
        """
        try:
            writer(path)
        except OutputError as fault:
            self._faults.append(str(fault))
            return self._kept_elsewhere(path, writer, f"in place of {path}", remark, saved)
        self._written.append(f"{path}{remark}")
        if saved is not None:
            saved.remove()
        return path

    def _kept_elsewhere(
        self,
        path: Path,
        writer: Writer,
        why: str,
        remark: str = "",
        saved: SavedMeanwhile | None = None,
    ) -> Path | None:
        before = None if saved is None else saved.path
        for other in (*([] if before is None else [before]), *_other_places(path)):
            try:
                writer(other)
            except OutputError:
                continue
            self._written.append(f"{other} ({why}){remark}")
            if saved is not None:
                saved.replaced_by(other)
            return other
        if saved is not None and self._leave_saved(saved, why):
            return before
        self._faults.append(f"There was no other place for {path.name} either: it is lost.")
        return None

    def _leave_saved(self, saved: SavedMeanwhile, why: str) -> bool:
        """Leave what was saved meanwhile, where there is nothing later; return whether it is."""
        path = saved.path
        if path is None:
            return False
        saved.replaced_by(path)
        self._written.append(f"{path} (the plan as it was saved while the search ran, {why})")
        return True

    def _tell(self) -> None:
        """Tell once; on the error stream where nobody reads the other one."""
        faults, self._faults = self._faults, []
        written, self._written = self._written, []
        self._has_failed = self._has_failed or bool(faults)
        for fault in faults:
            click.echo(f"error {escaped(fault)}", err=True)
        for path in written:
            if not _is_lost(sys.stdout):
                click.echo(f"written: {path}")
            if _is_lost(sys.stdout):  # since long, or just now
                click.echo(f"written: {path}", err=True)


def _is_lost(stream: object) -> bool:
    return stream is None or getattr(stream, "is_lost", False)


def _other_places(path: Path) -> Iterator[Path]:
    """Go through names not in use: beside the file, in the working folder, among temporary ones."""
    for folder in dict.fromkeys(_folders(path)):
        for number in range(1, MOST_NAMES):
            last = "" if number == 1 else f"-{number}"
            other = folder / f"{_plain(path.stem)}-kept{last}{path.suffix}"
            try:
                is_free = not (other.exists() or other.is_symlink())
            except (OSError, ValueError):
                break
            if is_free:
                yield other
                break


def _folders(path: Path) -> Iterator[Path]:
    yield path.parent
    with suppress(OSError):  # the working folder was removed
        yield Path.cwd()
    with suppress(OSError):  # there is no folder for temporary files
        yield Path(tempfile.gettempdir())


def _plain(name: str) -> str:
    """Return the name in letters that file names can have here."""
    try:
        os.fsencode(name)
    except UnicodeEncodeError:
        return "".join(c if c.isascii() else "_" for c in name)
    return name
