"""Read aircraft that a base is asked about: a workbook with the columns of ``Checks``."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime
from pathlib import Path

from capacity.facts import Base, Check
from capacity.inputs.enquiry_faults import (
    EnquiryRow,
    check_of,
    faults_of_enquiries,
    notes_of_enquiries,
)
from capacity.inputs.faulty_enquiries import faults_beside
from capacity.inputs.reading.by_kind import tables_or_message
from capacity.inputs.reading.local_marks import LocalText
from capacity.inputs.reading.places import same
from capacity.inputs.reading.raw import RawBook, RawTable, UnreadableCell
from capacity.inputs.reading.rows import SheetRows
from capacity.inputs.reading.sheet_reader import SheetReader
from capacity.messages import Level, Message, error
from capacity.words import quoted

TITLES = ("Enquiries", "Checks")
TypedRow = Mapping[str, object]
"""What stands in a row, by heading: texts, numbers and dates."""

UNREADABLE = "#unreadable"
"""What stands for a cell that holds no value that can be used."""


def enquiries_and_messages(path: Path, base: Base) -> tuple[tuple[Check, ...], list[Message]]:
    """Return the enquiries and everything worth saying about them; bad input never raises."""
    table, messages = _table_at(path)
    return ((), messages) if table is None else enquiries_of(table, base, messages)


def rows_and_messages(path: Path, base: Base) -> tuple[tuple[TypedRow, ...], list[Message]]:
    """Return the rows as they stand, and the messages of ``enquiries_and_messages``.

    What stands under unknown headings has a message, and is not among the rows.
    """
    table, messages = _table_at(path)
    if table is None:
        return (), messages
    (_, titles), *rows = table.rows
    known = {same(heading): heading for heading in EnquiryRow.headings()}
    headings = [known.get(same(title)) if isinstance(title, str) else None for title in titles]
    _, messages = enquiries_of(table, base, messages)
    return tuple(_as_typed(headings, cells) for _, cells in rows), messages


def enquiries_of(
    table: RawTable, base: Base, messages: list[Message]
) -> tuple[tuple[Check, ...], list[Message]]:
    """Return the enquiries of a table whose first row are headings; messages are added to."""
    rows: SheetRows[EnquiryRow] = SheetReader(EnquiryRow, table, messages).read()
    messages += _named_twice(rows)
    row_of = {row.check: row for row in rows.rows}

    def at(check: Check, field: str) -> str:
        row = row_of[check.name]
        return rows.places.cell(row.row, row.heading(field))

    checks = tuple(check_of(row) for row in row_of.values())
    messages += [
        *faults_of_enquiries(checks, base, at),
        *faults_beside(table, rows, base, messages),
    ]
    if not any(message.level is Level.ERROR for message in messages):
        messages += notes_of_enquiries(checks, base, at)
    return checks, messages


def _table_at(path: Path) -> tuple[RawTable | None, list[Message]]:
    name = path.name or str(path)
    raw = tables_or_message(path, _is_wanted)
    if isinstance(raw, Message):
        return None, [raw]
    messages = list(raw.messages)
    return _table(raw, name, messages), messages


def _as_typed(headings: Sequence[str | None], cells: Sequence[object]) -> TypedRow:
    """Return a row as a person would type it, a date as a date; blank cells are left out."""
    values = zip(headings, cells, strict=False)
    return {h: _typed(cell) for h, cell in values if h is not None and cell is not None}


def _typed(cell: object) -> object:
    match cell:
        case LocalText():
            return cell.day or (cell.plain and float(cell.plain)) or str(cell)
        case UnreadableCell():
            return UNREADABLE
        case datetime():
            return cell.date()
        case bool():
            return "yes" if cell else "no"
        case date() | int():
            return cell
        case float():
            return float(cell)
        case _:
            return str(cell)


def _is_wanted(title: str) -> bool:
    return same(title) in {same(known) for known in TITLES}


def _table(raw: RawBook, name: str, messages: list[Message]) -> RawTable | None:
    """Return the one table of enquiries; messages say why there is none."""
    by_title = {same(title): table for title, table in raw.tables.items()}
    found = [by_title[same(title)] for title in TITLES if same(title) in by_title]
    if not found:
        what = f"there is no sheet Enquiries; present are {quoted(raw.titles)}."
        messages.append(error(name, what, "Add it, with the columns of Checks."))
        return None
    table = found[0]
    if not table.whole:  # why, the reader has said
        return None
    if len(table.rows) < 2:
        messages.append(
            error(table.label, "the sheet has no rows.", "Fill in a row for each enquiry.")
        )
        return None
    return table


def _named_twice(rows: SheetRows[EnquiryRow]) -> Iterator[Message]:
    for row, identity in rows.identities:
        first = rows.named[identity[0]]
        if row != first:
            where = rows.places.cell(row, EnquiryRow.heading("check"))
            what = f"'{identity[0]}' is here and in row {first}."
            yield error(where, what, "Rename or delete one of the two.")
