"""A workbook with rows changed: its copy, and what is wrong with it."""

from collections.abc import Sequence
from pathlib import Path

from capacity.inputs.book import Book
from capacity.inputs.held_files import read_held
from capacity.inputs.read_input import book_of
from capacity.inputs.reading.as_of import AsOf
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.inputs.reading.edited_tables import edited_tables
from capacity.inputs.reading.raw import RawBook
from capacity.inputs.reading.rolled_files import copy_of
from capacity.inputs.reading.spliced_copy import spliced_copy


def edited_and_read(
    path: Path, edits: Sequence[SheetEdit], as_of: AsOf | None = None
) -> tuple[bytes, Book]:
    """Return a copy of the workbook with the edits made, and what is read of that copy.

    Raises
    ------
    InputError
        When the edits cannot be made; ``spliced_copy`` says when.
    """
    content = spliced_copy(path, edits)
    return content, read_held(path, content, as_of)


def read_edited(path: Path, edits: Sequence[SheetEdit], as_of: AsOf | None = None) -> Book:
    """Return what is read of a workbook, or of a folder of tables, with the edits made.

    Raises
    ------
    InputError
        When the edits cannot be made; ``copy_of`` says when.
    """
    return read_held(path, copy_of(path, edits), as_of)


def book_with_edits(raw: RawBook, edits: Sequence[SheetEdit], as_of: AsOf | None = None) -> Book:
    """Return what is read of tables with the edits made, without any file.

    Only of tables that were read within limits: nothing bounds it here but their size.
    """
    return book_of(edited_tables(raw, edits), as_of)
