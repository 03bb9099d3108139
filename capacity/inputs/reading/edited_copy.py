"""What is to be different in a workbook, and its sheets as they stand, to be changed.

``spliced_copy`` makes the copy. The workbook itself is never written to.
"""

import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from capacity.errors import InputError
from capacity.inputs.reading.by_kind import tables_or_message
from capacity.inputs.reading.hours_by_skill import has_column_a_skill
from capacity.inputs.reading.places import same
from capacity.inputs.reading.raw import (
    PercentNumber,
    RawBook,
    RawTable,
    UnreadableCell,
    UnreadableError,
)
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import SHEETS, HoursRow, SettingLine
from capacity.inputs.reading.tables import is_known
from capacity.inputs.reading.workbook import look_through_all_sheets
from capacity.messages import Level, Message

MOST_BYTES_UNPACKED = 50_000_000
"""More than these are read row by row, but not held in memory to be changed."""

_SHEETS: tuple[type[Row], ...] = (SettingLine, *SHEETS)
_MODELS: Mapping[str, type[Row]] = {same(model.sheet): model for model in _SHEETS}


@dataclass(frozen=True, slots=True)
class TableRow:
    """A row with the ``number`` that a person sees; ``values`` are under their headings.

    A cell shown with a percent sign holds 75 here where a person reads 75 %. Blank cells and
    those that hold no usable value are not among the values.
    """

    number: int
    values: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class SheetTable:
    """The rows of one sheet under all headings that the sheet may have, in their order."""

    sheet: str
    headings: tuple[str, ...]
    rows: tuple[TableRow, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetEdit:
    """What is to be different in one sheet.

    ``changed`` gives new values by row number and heading, None to clear a cell; ``added`` are
    rows to stand below the last one; the cells of ``removed`` rows are cleared, so that no
    other row gets another number.
    """

    sheet: str
    changed: Mapping[int, Mapping[str, object]] = field(default_factory=dict)
    added: tuple[Mapping[str, object], ...] = ()
    removed: frozenset[int] = frozenset()

    @property
    def is_empty(self) -> bool:
        """Whether nothing would be different."""
        return not (self.changed or self.added or self.removed)


def sheet_tables(path: Path, sheets: Sequence[str]) -> tuple[SheetTable, ...]:
    """Return the named sheets of a workbook as they stand; a missing one has no rows.

    Raises
    ------
    InputError
        When the file cannot be read as a workbook.
    """
    return tables_shown(raw_book(path), sheets)


def tables_shown(raw: RawBook, sheets: Sequence[str]) -> tuple[SheetTable, ...]:
    """Return the named sheets of the tables of a workbook; a missing one has no rows."""
    by_title = {same(title): table for title, table in raw.tables.items()}
    known = [sheet for sheet in sheets if same(sheet) in _MODELS]
    return tuple(_table(_MODELS[same(sheet)], by_title.get(same(sheet))) for sheet in known)


def raw_tables(path: Path) -> dict[str, RawTable]:
    """Return the sheets that are read, by the titles in which they are compared.

    Raises
    ------
    InputError
        When the file cannot be read as a workbook.
    """
    return {same(title): table for title, table in raw_book(path).tables.items()}


def raw_book(path: Path) -> RawBook:
    """Return the tables of the sheets that are read, as they stand in the file.

    Raises
    ------
    InputError
        When the file cannot be read as a workbook.
    """
    raw = tables_or_message(path, is_known)
    if isinstance(raw, Message):
        raise InputError([raw])
    return raw


def refuse_large(path: Path) -> None:
    """Refuse a workbook that is too large to be held in memory and changed."""
    with zipfile.ZipFile(path) as archive:
        unpacked = sum(part.file_size for part in archive.infolist())
    if unpacked > MOST_BYTES_UNPACKED:
        what = f"the workbook unpacks to {unpacked / 1_000_000:,.0f} MB, too much to change here."
        remedy = "Change it in a spreadsheet program."
        raise InputError([Message(Level.ERROR, path.name, what, remedy)])
    try:  # a copy holds all sheets in memory, also those that are not read
        look_through_all_sheets(path)
    except UnreadableError as fault:
        raise InputError([Message(Level.ERROR, path.name, fault.what, fault.remedy)]) from fault


def headings_of(model: type[Row], raw: RawTable | None) -> tuple[str, ...]:
    """Return all headings that a sheet may have; of man-hours, those of its form."""
    if model is HoursRow and raw is not None and raw.rows and has_column_a_skill(raw):
        return tuple(str(cell).strip() for cell in raw.rows[0][1] if isinstance(cell, str))
    return tuple(model.headings())


def _table(model: type[Row], raw: RawTable | None) -> SheetTable:
    headings = headings_of(model, raw)
    if raw is None or not raw.rows:
        return SheetTable(model.sheet, headings)
    columns = columns_of(headings, raw)
    rows = (
        TableRow(number, {h: _shown(cells[c - 1]) for h, c in columns.items() if _used(cells, c)})
        for number, cells in raw.rows[1:]
    )
    return SheetTable(model.sheet, headings, tuple(row for row in rows if row.values))


def columns_of(headings: Sequence[str], raw: RawTable) -> dict[str, int]:
    """Return the column number, from 1, of each heading that the first row holds."""
    known = {same(heading): heading for heading in headings}
    found: dict[str, int] = {}
    for column, cell in enumerate(raw.rows[0][1], start=1):
        heading = known.get(same(str(cell)))
        if heading is not None:
            found.setdefault(heading, column)
    return found


def _used(cells: tuple[object, ...], column: int) -> bool:
    held = cells[column - 1] if column <= len(cells) else None
    return held is not None and not isinstance(held, UnreadableCell)


def _shown(value: object) -> object:
    # Rounded, because 0.07 * 100 is not quite 7.
    return round(100 * float(value), 9) if isinstance(value, PercentNumber) else value
