"""Rows of ``.csv`` files changed in a copy of their folder; files without a change stay as is."""

import csv
import io
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from pathlib import Path

from capacity.inputs.reading.edited_copy import SheetEdit, columns_of
from capacity.inputs.reading.local_marks import (
    COMMA,
    SEMICOLON,
    as_the_file_writes,
    delimiter_of,
    said_delimiter,
)
from capacity.inputs.reading.places import same
from capacity.inputs.reading.raw import RawTable, UntypedText, blank_to_none
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import SHEETS, SettingLine

BOM = "\ufeff"
_SHEETS: tuple[type[Row], ...] = (SettingLine, *SHEETS)
_MODELS: Mapping[str, type[Row]] = {same(model.sheet): model for model in _SHEETS}


def csv_copy(folder: Path, edits: Sequence[SheetEdit]) -> dict[str, bytes]:
    """Return the files of a copy of the folder by name, with the edits made.

    A file that is changed keeps its delimiter, its decimal sign and its line ends; days are
    written as 2027-01-31. Only ``.csv`` files are copied. Raises ``OSError`` where one cannot be
    read.
    """
    files = sorted(p for p in folder.iterdir() if p.is_file() and p.suffix.lower() == ".csv")
    found = {file.name: file.read_bytes() for file in files}
    names = {same(file.stem): file.name for file in files}
    for edit in edits:
        if edit.is_empty:
            continue
        name = names.get(same(edit.sheet), f"{edit.sheet}.csv")
        found[name] = _edited(found.get(name, b""), edit)
    return found


def _edited(content: bytes, edit: SheetEdit) -> bytes:
    text = content.decode("utf-8-sig")
    start = BOM if content.startswith(BOM.encode()) or not content else ""
    first, rest = _first_line(text)
    said = said_delimiter(first)
    delimiter = said or delimiter_of(next((li for li in text.splitlines() if li.strip()), ""))
    body = rest if said else text
    rows = list(csv.reader(io.StringIO(body, newline=""), delimiter=delimiter))
    decimal = _decimal_sign(rows, delimiter)
    model = _MODELS[same(edit.sheet)]
    if not any(any(cell.strip() for cell in row) for row in rows):
        rows = [list(model.headings())]
    top = next(n for n, row in enumerate(rows) if any(cell.strip() for cell in row))
    table = RawTable(edit.sheet, ((top + 1, tuple(rows[top])),))
    columns = columns_of(tuple(model.headings()), table)
    for number in edit.removed:
        rows[number - 1] = [""] * len(rows[number - 1])
    while rows and not any(cell.strip() for cell in rows[-1]) and len(rows) - 1 > top:
        rows.pop()  # blank lines at the end would be read as nothing anyway
    for number, values in edit.changed.items():
        rows += [[] for _ in range(number - len(rows))]
        _put(rows[number - 1], values, columns, rows[top], decimal)
    for values in edit.added:
        rows.append([])
        _put(rows[-1], values, columns, rows[top], decimal)
    out = io.StringIO(newline="")
    ends = "\r\n" if "\r\n" in text or not text else "\n"
    csv.writer(out, delimiter=delimiter, lineterminator=ends).writerows(rows)
    return (start + (first if said else "") + out.getvalue()).encode("utf-8")


def _put(
    row: list[str],
    values: Mapping[str, object],
    columns: dict[str, int],
    headings: list[str],
    decimal: str,
) -> None:
    for heading, value in values.items():
        if heading not in columns:
            if value is None:
                continue
            headings.append(heading)
            columns[heading] = len(headings)
        column = columns[heading]
        row += [""] * (column - len(row))
        row[column - 1] = _as_text(value, decimal)


def _as_text(value: object, decimal: str) -> str:
    if value is None:
        return ""
    if isinstance(value, date):
        return (value.date() if isinstance(value, datetime) else value).isoformat()
    if isinstance(value, float):
        whole, _, part = repr(value).partition(".")
        # Three digits behind a sign could be thousands.
        return whole if part in ("", "0") else f"{whole}{decimal}{part}{'0' * (len(part) == 3)}"
    return str(value)


def _decimal_sign(rows: Sequence[Sequence[str]], delimiter: str) -> str:
    """Return the decimal sign of a file; where it shows none, the usual one of its delimiter."""
    if delimiter == COMMA:
        return "."
    cells = (
        (n, tuple(blank_to_none(UntypedText(c)) for c in row)) for n, row in enumerate(rows, 1)
    )
    _, marks = as_the_file_writes(RawTable("", tuple(cells)), delimiter)
    if len(marks.decimals) == 1:
        return min(marks.decimals)
    return "," if delimiter == SEMICOLON else "."


def _first_line(text: str) -> tuple[str, str]:
    end = text.find("\n") + 1
    return (text[:end], text[end:]) if end else (text, "")
