"""Change rows of a workbook in a copy of it; the workbook itself is never written to.

The copy keeps what openpyxl keeps: cells, formats, notes and sheets that are not read here. It
loses drawings and charts. In the sheets that are read, formulas give way to the results stored
for them, because the copy holds no new ones and would otherwise read as empty.
"""

import io
import warnings
import zipfile
from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import openpyxl
from openpyxl.cell import Cell, MergedCell
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.worksheet.worksheet import Worksheet

from capacity.errors import InputError
from capacity.inputs.reading.by_kind import tables_or_message
from capacity.inputs.reading.hours_by_skill import has_column_a_skill
from capacity.inputs.reading.places import same
from capacity.inputs.reading.raw import PercentNumber, RawTable, UnreadableCell, UnreadableError
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import SHEETS, HoursRow, SettingLine
from capacity.inputs.reading.tables import is_known
from capacity.inputs.reading.workbook import look_through_all_sheets
from capacity.messages import Level, Message

MOST_BYTES_UNPACKED = 50_000_000
"""More than these are read row by row, but not held in memory to be changed."""

LONGEST_CELL = 32_767

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
    raw = raw_tables(path)
    known = [sheet for sheet in sheets if same(sheet) in _MODELS]
    return tuple(_table(_MODELS[same(sheet)], raw.get(same(sheet))) for sheet in known)


def edited_copy(path: Path, edits: Sequence[SheetEdit]) -> bytes:
    """Return a copy of the workbook with the edits made, as the bytes of an ``.xlsx`` file.

    Raises
    ------
    InputError
        When the file cannot be read, is too large to be changed here, or when a cell to be
        changed is inside merged cells.
    """
    raw = raw_tables(path)
    refuse_large(path)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of drawings and the like, which the docstring tells
        book = openpyxl.load_workbook(path)
    for sheet in book.worksheets:
        if (table := raw.get(same(sheet.title))) is not None:
            _results_for_formulas(sheet, table)
    for edit in edits:
        if not edit.is_empty:
            _Writer(book, edit, raw.get(same(edit.sheet))).write()
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def raw_tables(path: Path) -> dict[str, RawTable]:
    """Return the sheets that are read, by the titles in which they are compared.

    Raises
    ------
    InputError
        When the file cannot be read as a workbook.
    """
    raw = tables_or_message(path, is_known)
    if isinstance(raw, Message):
        raise InputError([raw])
    return {same(title): table for title, table in raw.tables.items()}


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


def _headings_of(model: type[Row], raw: RawTable | None) -> tuple[str, ...]:
    """Return all headings that a sheet may have; of man-hours, those of its form."""
    if model is HoursRow and raw is not None and raw.rows and has_column_a_skill(raw):
        return tuple(str(cell).strip() for cell in raw.rows[0][1] if isinstance(cell, str))
    return tuple(model.headings())


def _table(model: type[Row], raw: RawTable | None) -> SheetTable:
    headings = _headings_of(model, raw)
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


def _results_for_formulas(sheet: Worksheet, raw: RawTable) -> None:
    for number, cells in raw.rows:
        for column, result in enumerate(cells, start=1):
            cell: Any = sheet.cell(number, column)
            if cell.data_type == "f" and not isinstance(result, UnreadableCell):
                cell.value = float(result) if isinstance(result, PercentNumber) else result


class _Writer:
    """Makes one edit in one sheet."""

    def __init__(self, book: openpyxl.Workbook, edit: SheetEdit, raw: RawTable | None) -> None:
        self._edit = edit
        self._raw = raw if raw is not None and raw.rows else None
        model = _MODELS[same(edit.sheet)]
        found = [sheet for sheet in book.worksheets if same(sheet.title) == same(edit.sheet)]
        self._sheet = found[0] if found else book.create_sheet(model.sheet)
        if self._raw is None:
            self._heading_row, self._last_row, self._columns = 1, 1, {}
        else:
            self._heading_row, self._last_row = self._raw.rows[0][0], self._raw.rows[-1][0]
            self._columns = columns_of(_headings_of(model, self._raw), self._raw)
        self._held = dict(self._raw.rows) if self._raw else {}

    def write(self) -> None:
        for number in sorted(self._edit.removed):
            for column in range(1, self._sheet.max_column + 1):
                self._put(number, column, None, number)
        for number, values in self._edit.changed.items():
            for heading, value in values.items():
                self._put(number, self._column(heading), value, number)
        for number, values in enumerate(self._edit.added, start=self._last_row + 1):
            for heading, value in values.items():
                column = self._column(heading)
                if self._last_row > self._heading_row:
                    like: Any = self._sheet.cell(self._last_row, column)
                    cell: Any = self._sheet.cell(number, column)
                    cell._style = copy(like._style)
                self._put(number, column, value, self._last_row)

    def _column(self, heading: str) -> int:
        """Return the column of a heading; one that is not there yet comes at the right."""
        if heading not in self._columns:
            empty = not self._columns and self._raw is None
            column = 1 if empty else self._sheet.max_column + 1
            self._sheet.cell(self._heading_row, column).value = heading
            self._columns[heading] = column
        return self._columns[heading]

    def _put(self, row: int, column: int, value: object, like_row: int) -> None:
        """Write a value; ``like_row`` is the row that says how the column is shown."""
        cell: Any = self._sheet.cell(row, column)
        if isinstance(cell, MergedCell):
            what = "the cell is inside merged cells and cannot be changed here."
            where = f"{self._sheet.title}!{cell.coordinate}"
            remedy = "Take the merged cells apart in a spreadsheet program."
            raise InputError([Message(Level.ERROR, where, what, remedy)])
        if isinstance(value, str):
            # As text whatever it begins with: an equals sign would make it a formula.
            cell.value = ILLEGAL_CHARACTERS_RE.sub("", value)[:LONGEST_CELL]
            cell.data_type = "s"
        elif isinstance(value, int | float) and not isinstance(value, bool):
            cell.value = self._as_shown(cell, value, like_row, column)
        else:
            cell.value = value

    def _as_shown(self, cell: Cell, value: float, row: int, column: int) -> float:
        """Return the value as the cell stores it: 0.75 where it shows 75 %."""
        cells = self._held.get(row, ())
        if column <= len(cells) and isinstance(cells[column - 1], PercentNumber):
            return value / 100
        if "%" in cell.number_format:
            cell.number_format = "General"
        return value
