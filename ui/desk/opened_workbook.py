"""A workbook that a person has opened: its bytes, and what the reader makes of them."""

import re
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from capacity.facts import Base, Check, Package
from capacity.inputs import Book
from capacity.inputs.limited import (
    Wanted,
    always,
    booked,
    edited,
    held_copy,
    read_book,
)
from capacity.inputs.reading.as_of import AsOf
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.messages import Level
from capacity.reports.plan_files.asked_plan import AskedPlan, read_plan
from capacity.reports.plan_files.limited import read_plan_file_within_limits
from capacity.reports.plan_files.written import PlanFile

LONGEST_NAME = 160
"""Bytes: file systems count those, and a letter has up to four."""


@dataclass(frozen=True, slots=True)
class OpenedBook:
    """``name`` is the file's name; ``content`` its bytes, None for a folder of CSV files.

    ``is_edited`` tells an edited copy from what was opened; ``folder`` is where CSV files lie.
    """

    name: str
    content: bytes | None
    book: Book
    is_edited: bool = False
    folder: Path | None = None

    @property
    def stem(self) -> str:
        """The name without its ending."""
        return Path(self.name).stem

    @property
    def errors(self) -> int:
        """How many messages keep it from being planned."""
        return sum(message.level is Level.ERROR for message in self.book.messages)


def opened_from_bytes(
    name: str, content: bytes, is_edited: bool = False, still_wanted: Wanted = always
) -> OpenedBook:
    """Read an uploaded workbook from a file of its own, which is deleted at once.

    Raises
    ------
    NoLongerWantedError
        When ``still_wanted`` says no meanwhile.
    """
    with tempfile.TemporaryDirectory() as folder:
        book = read_book(written(folder, name, content), still_wanted)
    return OpenedBook(name, content, book, is_edited)


def opened_from_path(path: Path) -> OpenedBook:
    """Read a workbook or a folder of CSV files on this machine."""
    if path.is_dir():
        return OpenedBook(path.name, None, read_book(path), folder=path)
    try:
        content = path.read_bytes()
    except OSError:
        return OpenedBook(path.name, None, read_book(path))  # whose messages say why
    return opened_from_bytes(path.name, content)


def read_as_of(opened: OpenedBook, as_of: AsOf) -> OpenedBook:
    """Return a workbook read again as of a day: work left on checks counts from it."""
    if opened.content is None and opened.folder is not None:
        return replace(opened, book=read_book(opened.folder, as_of=as_of))
    with tempfile.TemporaryDirectory() as folder:
        path = written(folder, opened.name, opened.content or b"")
        return replace(opened, book=read_book(path, as_of=as_of))


def plan_file_from_bytes(name: str, content: bytes, still_wanted: Wanted = always) -> PlanFile:
    """Read an uploaded plan file within the limits of a workbook.

    Raises
    ------
    InputError
        When it cannot be read as a plan file.
    NoLongerWantedError
        When ``still_wanted`` says no meanwhile.
    """
    with tempfile.TemporaryDirectory() as folder:
        return read_plan_file_within_limits(written(folder, name, content), still_wanted)


def asked_from_bytes(base: Base, name: str, content: bytes) -> AskedPlan:
    """Return the plan of a plan file that was read within limits, with the base it is a plan of.

    Raises
    ------
    InputError
        When it is another plan than the workbook of ``base`` has with it.
    """
    with tempfile.TemporaryDirectory() as folder:
        return read_plan(base, written(folder, name, content))


def with_edits(
    opened: OpenedBook, edits: Sequence[SheetEdit], as_of: AsOf | None = None
) -> OpenedBook:
    """Return an edited copy, read as of a day by the same reader as the workbook itself.

    Raises
    ------
    InputError
        When the edit cannot be made.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = written(folder, opened.name, opened.content or b"")
        content, book = edited(path, edits, as_of)
    return OpenedBook(opened.name, content, book, is_edited=True)


def with_booked(
    opened: OpenedBook, checks: Sequence[Check], packages: Sequence[Package] = ()
) -> OpenedBook:
    """Return a copy with checks as further rows, read by the same reader as the workbook itself.

    ``packages`` are those of their own that they have.

    Raises
    ------
    InputError
        When the rows cannot be added.
    """
    name = Path(opened.name).with_suffix(".xlsx").name
    with tempfile.TemporaryDirectory() as folder:
        content = booked(written(folder, opened.name, opened.content or b""), checks, packages)
    return opened_from_bytes(name, content, is_edited=True)


def with_held(
    opened: OpenedBook,
    held: Mapping[str, tuple[str | None, date | None]],
    as_of: AsOf | None = None,
) -> tuple[OpenedBook, OpenedBook]:
    """Return a copy with checks held, as it is and as it is read ``as_of`` a day.

    Raises
    ------
    InputError
        When the rows cannot be changed.
    """
    name = Path(opened.name).with_suffix(".xlsx").name
    with tempfile.TemporaryDirectory() as folder:
        content = held_copy(written(folder, opened.name, opened.content or b""), held)
    copy = opened_from_bytes(name, content, is_edited=True)
    return copy, copy if as_of is None else read_as_of(copy, as_of)


@contextmanager
def on_disk(opened: OpenedBook) -> Iterator[Path]:
    """Give a workbook a place on disk for as long as it is worked on; a folder has one already."""
    if opened.content is None and opened.folder is not None:
        yield opened.folder
        return
    with tempfile.TemporaryDirectory() as folder:
        yield written(folder, opened.name, opened.content or b"")


def written(folder: str, name: str, content: bytes) -> Path:
    """Write the bytes under a name that every file system takes and no path can hide in."""
    stem, ending = Path(name).stem, Path(name).suffix
    known = re.sub(r"[^\w. -]", "_", stem).encode()[:LONGEST_NAME].decode(errors="ignore")
    safe = known.strip(" .") or "workbook"
    path = Path(folder) / (safe + ending if re.fullmatch(r"[.]\w{1,8}", ending) else safe)
    path.write_bytes(content)
    return path
