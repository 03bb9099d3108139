"""The workbook in use as its tables stand, read once: what grids show and changes are tried on."""

import tempfile
from collections.abc import Mapping
from functools import lru_cache

from capacity.errors import InputError
from capacity.inputs import Book
from capacity.inputs.edited_book import book_with_edits
from capacity.inputs.limited import raw_book
from capacity.inputs.reading.as_of import AsOf
from capacity.inputs.reading.edited_copy import SheetEdit, SheetTable, tables_shown
from capacity.inputs.reading.edited_tables import edited_tables
from capacity.inputs.reading.places import same
from capacity.inputs.reading.raw import RawBook
from ui.desk.desk import Desk, Verified
from ui.desk.opened_workbook import OpenedBook, written

BOOKS_CACHED = 20
"""Workbooks whose tables are kept, so that not every click reads them again."""

MOST_CELLS_AT_ONCE = 400_000
"""A workbook with more cells is not verified with every change, but when its changes are used."""


def tables_in_use(opened: OpenedBook | None) -> RawBook | None:
    """Return the tables of a workbook; None of what cannot be changed here or cannot be read."""
    if opened is None or opened.content is None:
        return None
    try:
        return _read(opened.name, opened.content)
    except InputError:  # the messages of the workbook say why
        return None


def sheets_of(
    opened: OpenedBook, names: tuple[str, ...], pending: Mapping[str, SheetEdit] | None = None
) -> dict[str, SheetTable]:
    """Return sheets of a workbook by name, with what is pending in them if that is given."""
    raw = tables_in_use(opened)
    if raw is None:
        return {}
    edits = [edit for name in names if (edit := (pending or {}).get(name)) is not None]
    return {table.sheet: table for table in tables_shown(edited_tables(raw, edits), names)}


def last_row_of(opened: OpenedBook, sheet: str) -> int:
    """Return the last row of a sheet that is not blank, 1 of one that is not there."""
    raw = tables_in_use(opened)
    tables = () if raw is None else raw.tables.items()
    return next((t.rows[-1][0] for name, t in tables if same(name) == same(sheet) and t.rows), 1)


def is_verified_at_once(opened: OpenedBook) -> bool:
    """Whether a workbook is small enough to be verified with every change."""
    raw = tables_in_use(opened)
    if raw is None:
        return False
    cells = sum(len(cells) for table in raw.tables.values() for _, cells in table.rows)
    return cells <= MOST_CELLS_AT_ONCE


def verified(desk: Desk, edits: Mapping[str, SheetEdit], as_of: AsOf | None = None) -> Book:
    """Return what is read of the workbook in use with changes, worked out once for each of them.

    Without any it is what was read of the file.
    """
    opened = desk.opened
    raw = tables_in_use(opened)
    if opened is None or raw is None or (not edits and as_of is None):
        assert opened is not None
        return opened.book
    known = desk.verified
    if known is None or (known.version, known.edits, known.as_of) != (desk.version, edits, as_of):
        book = book_with_edits(raw, tuple(edits.values()), as_of)
        known = desk.verified = Verified(desk.version, dict(edits), as_of, book)
    return known.book


@lru_cache(maxsize=BOOKS_CACHED)
def _read(name: str, content: bytes) -> RawBook:
    with tempfile.TemporaryDirectory() as folder:
        return raw_book(written(folder, name, content))
