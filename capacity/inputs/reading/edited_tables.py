"""Rows changed in the tables of a workbook that is held in memory, before any copy is written.

What is read of them is what the edited copy says, so every change can be verified at once,
without the file being packed and unpacked again.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from capacity.inputs.reading.edited_copy import SheetEdit, columns_of, headings_of
from capacity.inputs.reading.places import same
from capacity.inputs.reading.raw import PercentNumber, RawBook, RawTable, blank_to_none
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import SHEETS, SettingLine

_ALL: tuple[type[Row], ...] = (SettingLine, *SHEETS)
_MODELS: Mapping[str, type[Row]] = {same(model.sheet): model for model in _ALL}


def edited_tables(book: RawBook, edits: Sequence[SheetEdit]) -> RawBook:
    """Return the tables with the edits made, every other row as it was.

    Rows keep their numbers: a removed one is blank, and those added stand below the last one. A
    sheet that is not there is begun, a heading that is not there comes at the right.
    """
    tables = dict(book.tables)
    titles = list(book.titles)
    for edit in edits:
        if edit.is_empty:
            continue
        title = next((there for there in tables if same(there) == same(edit.sheet)), None)
        if title is None:
            title = _MODELS[same(edit.sheet)].sheet
            titles.append(title)
        tables[title] = _edited(_MODELS[same(edit.sheet)], tables.get(title), edit)
    return replace(book, tables=tables, titles=tuple(dict.fromkeys(titles)))


def _edited(model: type[Row], table: RawTable | None, edit: SheetEdit) -> RawTable:
    if table is None:
        headings: tuple[object, ...] = tuple(model.headings())
        table = RawTable(model.sheet, ((1, headings),))
    wanted = [*edit.changed.values(), *edit.added]
    written = {h for values in wanted for h, value in values.items() if value is not None}
    heading_row, headings = table.rows[0] if table.rows else (1, ())
    known = headings_of(model, table)
    columns = columns_of(known, table) if table.rows else {}
    widest = max((len(cells) for _, cells in table.rows), default=0)
    further = [heading for heading in (*known, *written) if heading in written - set(columns)]
    for heading in dict.fromkeys(further):
        widest += 1
        columns[heading] = widest
        headings = (*headings, *[None] * (widest - 1 - len(headings)), heading)
    rows = dict(table.rows[1:])
    last = max(rows, default=heading_row)
    changed = {**edit.changed, **dict(enumerate(edit.added, start=last + 1))}
    for number, values in changed.items():
        cells = list(rows.get(number, ()))
        for heading, value in values.items():
            if heading in columns:
                _put(cells, columns[heading], value)
        rows[number] = tuple(cells)
    kept = sorted(
        (number, cells)
        for number, cells in rows.items()
        if number not in edit.removed and any(cell is not None for cell in cells)
    )
    return replace(table, rows=((heading_row, headings), *kept))


def _put(cells: list[object], column: int, value: object) -> None:
    """Put a value into a cell; a share where one stood is a share again, 0.75 for 75."""
    cells += [None] * (column - len(cells))
    is_share = isinstance(cells[column - 1], PercentNumber)
    if is_share and isinstance(value, int | float) and not isinstance(value, bool):
        value = PercentNumber(value / 100)
    cells[column - 1] = blank_to_none(value)
