"""Cells of a sheet changed in its own XML; every other byte of the part stays as it is.

A spreadsheet library that loads a workbook and saves it again loses what it does not know:
drawings, charts, the results of formulas, validations of newer programs. Here the part is only
looked through for where rows and cells stand, and what is to be different is put in their places.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any
from xml.parsers import expat
from xml.sax.saxutils import escape

from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.formula.translate import Translator
from openpyxl.utils import get_column_letter, range_boundaries
from openpyxl.utils.cell import column_index_from_string, coordinate_from_string
from openpyxl.utils.datetime import CALENDAR_MAC_1904, CALENDAR_WINDOWS_1900, to_excel

from capacity.inputs.reading.raw import UnreadableError

LONGEST_CELL = 32_767
_FORMULA = re.compile(rb"<(?:\w+:)?f\b(?:[^>]*?/>|.*?</(?:\w+:)?f>)", re.DOTALL)
_SPANS = re.compile(rb'\s+spans="[^"]*"')
_DIMENSION = re.compile(rb"<(?:\w+:)?dimension\b[^>]*/>")

Value = str | float | int | date | None
Place = tuple[int, int]
"""Row and column, both from 1."""


@dataclass(frozen=True, slots=True)
class Written:
    """A value for a cell, and the number of the style in which it is shown; None for none."""

    value: Value
    style: str | None = None


@dataclass(slots=True)
class _Cell:
    row: int
    column: int
    begin: int
    end: int = 0
    style: str | None = None
    formula: str = ""
    shared: str | None = None
    is_master: bool = False
    has_formula: bool = False


@dataclass(slots=True)
class _Row:
    number: int
    begin: int
    inside: int
    end: int = 0
    is_closed: bool = False
    cells: list[_Cell] = field(default_factory=list)


@dataclass(slots=True)
class SheetPart:
    """A sheet's XML with the places of its rows and cells."""

    content: bytes
    prefix: str = ""
    rows: dict[int, _Row] = field(default_factory=dict)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    data_begin: int = -1
    data_end: int = -1
    data_is_closed: bool = False

    def style_of(self, row: int, column: int) -> str | None:
        """Return the style of a cell, None where it has none or is not there."""
        found = self.rows.get(row)
        cells = found.cells if found else ()
        return next((cell.style for cell in cells if cell.column == column), None)

    def is_inside_merged(self, row: int, column: int) -> bool:
        """Return whether a cell is in merged cells, and not the one that shows their value."""
        return any(
            left <= column <= right and top <= row <= bottom and (row, column) != (top, left)
            for left, top, right, bottom in self.merged
        )


def sheet_part(content: bytes) -> SheetPart:
    """Return the places of rows and cells.

    Raises
    ------
    UnreadableError
        When the part is not in UTF-8 or has no rows where they belong.
    """
    head = content[:200].lower()
    if content[:2] in (b"\xff\xfe", b"\xfe\xff") or (b"encoding" in head and b"utf-8" not in head):
        raise UnreadableError(
            "a sheet is not stored in UTF-8.", "Save the workbook in a spreadsheet program."
        )
    looking = _Looking(content)
    looking.look()
    if looking.part.data_begin < 0:
        raise UnreadableError("a sheet has no part for rows.", "Copy it into a new workbook.")
    return looking.part


def spliced(
    part: SheetPart, cells: Mapping[Place, Written], *, dates_from_1904: bool = False
) -> tuple[bytes, bool]:
    """Return the part with those cells as given, and whether a formula went with it.

    Where a cell that others take their formula from is changed, they get it as their own.
    """
    by_row: dict[int, dict[int, Written]] = {}
    for (row, column), written in cells.items():
        by_row.setdefault(row, {})[column] = written
    own = _own_formulas(part, cells)
    for row, _ in own:
        by_row.setdefault(row, {})
    edits: list[tuple[int, int, bytes]] = []
    lost_formula = False
    new_rows: dict[int, bytes] = {}
    maker = _Maker(part.prefix, CALENDAR_MAC_1904 if dates_from_1904 else CALENDAR_WINDOWS_1900)
    for number, changed in sorted(by_row.items()):
        there = part.rows.get(number)
        if there is None:
            inner = b"".join(maker.cell(number, c, changed[c]) for c in sorted(changed))
            if inner:
                new_rows[number] = maker.row(number, inner)
            continue
        lost_formula |= any(c.has_formula and c.column in changed for c in there.cells)
        inner = _inner(part, there, changed, own, maker)
        start = _SPANS.sub(b"", part.content[there.begin : there.inside])
        if there.is_closed:
            start = start.rstrip()[:-2].rstrip() + b">"
        edits.append((there.begin, there.end, start + inner + maker.end_of_row()))
    edits += _insertions(part, new_rows)
    content = part.content
    for begin, end, text in sorted(edits, reverse=True):
        content = content[:begin] + text + content[end:]
    if part.data_is_closed and new_rows:
        content = _opened_data(part, new_rows)
    return _DIMENSION.sub(b"", content, count=1), lost_formula


def new_sheet(rows: Sequence[Sequence[Written]], widths: Sequence[float]) -> bytes:
    """Return a sheet of its own: the first row frozen, columns so wide."""
    maker = _Maker("", CALENDAR_WINDOWS_1900)
    lines = (
        maker.row(
            number,
            b"".join(maker.cell(number, c, written) for c, written in enumerate(row, start=1)),
        )
        for number, row in enumerate(rows, start=1)
    )
    columns = "".join(
        f'<col min="{n}" max="{n}" width="{width:g}" customWidth="1"/>'
        for n, width in enumerate(widths, start=1)
    )
    return (
        b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
        b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
        b'<sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" '
        b'activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>'
        b'<sheetFormatPr defaultRowHeight="15"/>'
        + (f"<cols>{columns}</cols>" if columns else "").encode()
        + b"<sheetData>"
        + b"".join(lines)
        + b"</sheetData></worksheet>"
    )


class _Looking:
    """Finds rows, cells and merged cells, byte by byte."""

    def __init__(self, content: bytes) -> None:
        self.part = SheetPart(content)
        self._content = content
        self._row: _Row | None = None
        self._cell: _Cell | None = None
        self._in_formula = False
        self._parser = expat.ParserCreate()
        self._parser.StartElementHandler = self._begin
        self._parser.EndElementHandler = self._end
        self._parser.CharacterDataHandler = self._text

    def look(self) -> None:
        """Look the whole part through."""
        try:
            self._parser.Parse(self._content, True)
        except expat.ExpatError as fault:
            raise UnreadableError(
                f"a part of the file is damaged ({fault}).", "Save the workbook anew."
            ) from fault

    def _begin(self, name: str, attributes: Mapping[str, str]) -> None:
        prefix, _, local = name.rpartition(":")
        at = self._parser.CurrentByteIndex
        if local == "sheetData":
            tag_end = _end_of_tag(self._content, at)
            self.part.prefix = f"{prefix}:" if prefix else ""
            self.part.data_begin = tag_end
            self.part.data_is_closed = self._content[tag_end - 2 : tag_end] == b"/>"
            self.part.data_end = at if self.part.data_is_closed else -1
        elif local == "row":
            number = int(attributes.get("r") or max(self.part.rows, default=0) + 1)
            tag_end = _end_of_tag(self._content, at)
            closed = self._content[tag_end - 2 : tag_end] == b"/>"
            self._row = _Row(number, at, tag_end, is_closed=closed)
            self.part.rows[number] = self._row
        elif local == "c" and self._row is not None:
            last = self._row.cells[-1].column if self._row.cells else 0
            column = last + 1
            if "r" in attributes:
                column = column_index_from_string(coordinate_from_string(attributes["r"])[0])
            self._cell = _Cell(self._row.number, column, at, style=attributes.get("s"))
            # Of a tag that closes itself the parser tells its end as the place behind it.
            tag_end = _end_of_tag(self._content, at)
            if self._content[tag_end - 2 : tag_end] == b"/>":
                self._cell.end = tag_end
            self._row.cells.append(self._cell)
        elif local == "f" and self._cell is not None:
            self._in_formula = self._cell.has_formula = True
            if attributes.get("t") == "shared":
                self._cell.shared = attributes.get("si")
                self._cell.is_master = "ref" in attributes
        elif local == "mergeCell":
            left, top, right, bottom = range_boundaries(attributes["ref"])
            self.part.merged.append((left or 1, top or 1, right or 1, bottom or 1))

    def _end(self, name: str) -> None:
        local = name.rpartition(":")[2]
        at = self._parser.CurrentByteIndex
        if local == "f":
            self._in_formula = False
        elif local == "c" and self._cell is not None:
            self._cell.end = self._cell.end or _end_of_tag(self._content, at)
            self._cell = None
        elif local == "row" and self._row is not None:
            closed = self._row.is_closed
            self._row.end = self._row.inside if closed else _end_of_tag(self._content, at)
            self._row = None
        elif local == "sheetData" and not self.part.data_is_closed:
            self.part.data_end = at

    def _text(self, text: str) -> None:
        if self._in_formula and self._cell is not None:
            self._cell.formula += text


def _end_of_tag(content: bytes, at: int) -> int:
    """Return the place behind the tag that begins at ``at``; quotes may hold a bracket."""
    quote = 0
    for place in range(at, len(content)):
        byte = content[place]
        if quote:
            quote = 0 if byte == quote else quote
        elif byte in b"\"'":
            quote = byte
        elif byte == ord(">"):
            return place + 1
    return len(content)


def _own_formulas(part: SheetPart, cells: Mapping[Place, Written]) -> dict[Place, bytes]:
    """Return the formulas that cells get as their own, since the one they share is changed."""
    every = [cell for row in part.rows.values() for cell in row.cells if cell.shared is not None]
    masters = {
        cell.shared: cell for cell in every if cell.is_master and (cell.row, cell.column) in cells
    }
    found = {}
    for cell in every:
        master = masters.get(cell.shared)
        if master is None or cell is master or (cell.row, cell.column) in cells:
            continue
        origin, target = _name(master.row, master.column), _name(cell.row, cell.column)
        text = Translator(f"={master.formula}", origin=origin).translate_formula(target)[1:]
        found[cell.row, cell.column] = f"<{part.prefix}f>{escape(text)}</{part.prefix}f>".encode()
    return found


def _inner(
    part: SheetPart,
    row: _Row,
    changed: Mapping[int, Written],
    own: Mapping[Place, bytes],
    maker: "_Maker",
) -> bytes:
    """Return the cells of a row in the order of their columns."""
    pieces: dict[int, bytes] = {}
    for cell in row.cells:
        text = part.content[cell.begin : cell.end]
        if (formula := own.get((row.number, cell.column))) is not None:
            text = _FORMULA.sub(lambda _, f=formula: f, text, count=1)  # type: ignore[misc]
        pieces[cell.column] = text
    for column, written in changed.items():
        # A cell that was there stays, empty: those behind it may go by their places in the row.
        keeps = column in pieces
        pieces[column] = maker.cell(row.number, column, written, keeps=keeps)
    return b"".join(pieces[column] for column in sorted(pieces))


def _insertions(part: SheetPart, new_rows: Mapping[int, bytes]) -> list[tuple[int, int, bytes]]:
    """Return each new row with its place: before the first row of a greater number."""
    if part.data_is_closed:
        return []
    found: dict[int, bytes] = {}
    for number in sorted(new_rows):
        after = min((n for n in part.rows if n > number), default=None)
        place = part.data_end if after is None else part.rows[after].begin
        found[place] = found.get(place, b"") + new_rows[number]
    return [(place, place, text) for place, text in found.items()]


def _opened_data(part: SheetPart, new_rows: Mapping[int, bytes]) -> bytes:
    """Return the part with rows where it had none at all."""
    begin = part.data_end
    text = b"".join(new_rows[number] for number in sorted(new_rows))
    tags = f"<{part.prefix}sheetData>".encode(), f"</{part.prefix}sheetData>".encode()
    return part.content[:begin] + tags[0] + text + tags[1] + part.content[part.data_begin :]


def _serial(day: date, epoch: object) -> float:
    """Return the number of a day, as spreadsheets count them."""
    count: Any = to_excel
    return float(count(day, epoch))


def _name(row: int, column: int) -> str:
    return f"{get_column_letter(column)}{row}"


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes cells and rows; dates are counted from ``epoch``."""

    prefix: str
    epoch: object

    def row(self, number: int, inner: bytes) -> bytes:
        """Return a whole row."""
        return f'<{self.prefix}row r="{number}">'.encode() + inner + self.end_of_row()

    def end_of_row(self) -> bytes:
        """Return the end tag of a row."""
        return f"</{self.prefix}row>".encode()

    def cell(self, row: int, column: int, written: Written, *, keeps: bool = False) -> bytes:
        """Return a cell; nothing for one without value and style, unless one is to be kept."""
        p, value = self.prefix, written.value
        attributes = f' r="{_name(row, column)}"'
        attributes += f' s="{escape(written.style)}"' if written.style else ""
        if value is None:
            return f"<{p}c{attributes}/>".encode() if written.style or keeps else b""
        if isinstance(value, str):
            # As text whatever it begins with: a formula would have an element of its own.
            text = escape(ILLEGAL_CHARACTERS_RE.sub("", value)[:LONGEST_CELL])
            inner = f'<{p}is><{p}t xml:space="preserve">{text}</{p}t></{p}is>'
            return f'<{p}c{attributes} t="inlineStr">{inner}</{p}c>'.encode()
        number = _serial(value, self.epoch) if isinstance(value, date) else value
        shown = repr(float(number)).removesuffix(".0")
        return f"<{p}c{attributes}><{p}v>{shown}</{p}v></{p}c>".encode()
