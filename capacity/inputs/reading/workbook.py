"""An ``.xlsx`` file as raw tables, read within bounds and never written to."""

import lzma
import re
import warnings
import zipfile
import zlib
from collections.abc import Callable, Iterable, Sequence
from functools import cache
from pathlib import Path
from typing import IO, Any
from xml.etree import ElementTree

from openpyxl.reader.excel import ExcelReader

from capacity.inputs.reading.raw import (
    ERROR_CODES,
    PercentNumber,
    RawBook,
    RawTable,
    RowCollector,
    UnreadableCell,
    UnreadableError,
    blank_to_none,
    error_cell,
)
from capacity.inputs.reading.sheet_xml import refuse_unreasonable, untold
from capacity.messages import Level, Message

MEGABYTE = 1_000_000
MOST_BYTES = 200 * MEGABYTE
MOST_BYTES_OF_A_PART = 20 * MEGABYTE  # shared texts and styles are held in memory
MOST_BYTES_OF_CONTENTS = 1 * MEGABYTE
MOST_PARTS = 2_000

OLE_SIGNATURE = bytes.fromhex("D0CF11E0A1B11AE1")
TABLE_OF_CONTENTS = "[Content_Types].xml"  # stands in every workbook of this kind
NOT_HELD = ("spreadsheetml.worksheet+xml", "spreadsheetml.pivotCacheRecords+xml")
PICTURES = frozenset((".png", ".jpg", ".jpeg", ".gif", ".bmp", ".emf", ".wmf", ".tif", ".tiff"))
DAMAGES = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    ElementTree.ParseError,
    EOFError,
    OSError,
    ValueError,
    NotImplementedError,
    RuntimeError,
)
"""What comes of an archive whose bytes are not those that it declares."""
SAVE_AGAIN = "Open it in a spreadsheet program and save it as an .xlsx workbook."
NO_RESULT = UnreadableCell(
    "holds a formula without a stored result.",
    "Open the workbook in a spreadsheet program and save it there, or type the value.",
)
_LITERAL = re.compile(r'"[^"]*"|\\.')  # parts of a number format that are shown as they are

Rows = list[tuple[int, tuple[object, ...]]]


def read_workbook(path: Path, wanted: Callable[[str], bool]) -> RawBook:
    """Return the wanted sheets of a workbook.

    Raises
    ------
    UnreadableError
        When the file is no workbook, is damaged or protected, or is too large.
    """
    with path.open("rb") as stream, warnings.catch_warnings():
        _refuse_other_kinds(path, stream.read(8))
        _refuse_other_archives(stream)
        stream.seek(0)
        # The library warns of drawings and the like, which are not read here anyway.
        warnings.simplefilter("ignore")
        try:
            reader = ExcelReader(stream, read_only=True, data_only=True, keep_links=False)
            reader.read()
        except Exception as fault:  # damaged parts fail in many ways, none of them ours
            raise _damaged(fault) from fault
        try:
            return _read_sheets(reader, wanted)
        finally:
            reader.wb.close()


def look_through_all_sheets(path: Path) -> None:
    """Look through the sheets of a workbook, also those that are not wanted.

    Raises
    ------
    UnreadableError
        When one of them has more of anything than a sheet of this tool can need.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            parts = _not_held(archive).intersection(archive.namelist())
            for part in sorted(name for name in parts if name.endswith(".xml")):
                with archive.open(part) as source:
                    untold(source)
    except DAMAGES as fault:
        raise _damaged(fault) from fault


def _refuse_other_kinds(path: Path, signature: bytes) -> None:
    if path.suffix.lower() == ".csv":
        raise UnreadableError(
            "the file holds one table alone.", "Name the folder that holds the .csv files."
        )
    if not signature:
        raise UnreadableError("the file is empty.", SAVE_AGAIN)
    if signature == OLE_SIGNATURE:
        raise UnreadableError(
            "the file is protected by a password, or of the old .xls kind.",
            "Save it as an .xlsx workbook without a password.",
        )
    if not signature.startswith(b"PK"):
        raise UnreadableError("the file is not an .xlsx workbook.", SAVE_AGAIN)


def _refuse_other_archives(stream: IO[bytes]) -> None:
    """Look at the parts and sizes that the archive declares, then through the parts themselves.

    More bytes than declared are never unpacked: the archive reader stops there.
    """
    try:
        with zipfile.ZipFile(stream) as archive:
            parts = archive.infolist()
            _refuse_declared(parts)
            not_held = _not_held(archive)
            for part in parts:
                if part.filename not in not_held and not _is_picture(part.filename):
                    _refuse_held(archive, part)
    except DAMAGES as fault:
        raise _damaged(fault) from fault


def _refuse_declared(parts: Sequence[zipfile.ZipInfo]) -> None:
    if any(part.flag_bits & 1 for part in parts):
        raise UnreadableError("the file is protected by a password.", "Save it without a password.")
    names, sizes = {part.filename for part in parts}, [part.file_size for part in parts]
    total, largest = sum(sizes), max(sizes, default=0)
    if total > MOST_BYTES or len(parts) > MOST_PARTS:
        raise _too_large(total, len(parts))
    if len(names) < len(parts):
        raise UnreadableError("the file is damaged: it holds a part twice.", SAVE_AGAIN)
    if TABLE_OF_CONTENTS not in names and largest > MOST_BYTES_OF_A_PART:
        raise _too_large(total, len(parts))
    if TABLE_OF_CONTENTS not in names:
        raise UnreadableError(
            "the file is not an .xlsx workbook but an archive of another kind, such as .ods.",
            SAVE_AGAIN,
        )
    contents = next(part for part in parts if part.filename == TABLE_OF_CONTENTS)
    if contents.file_size > MOST_BYTES_OF_CONTENTS:
        raise _too_large(total, len(parts))


def _too_large(total: int, parts: int) -> UnreadableError:
    return UnreadableError(
        f"the file would unpack to {total / MEGABYTE:,.0f} MB in {parts:,} parts, "
        "which is more than any input of this kind.",
        "Copy the tables into a new workbook.",
    )


def _not_held(archive: zipfile.ZipFile) -> set[str]:
    """Return the parts of which the library holds nothing in memory before a sheet is read.

    What a part is says the table of contents, not the folder that it stands in.
    """
    with archive.open(TABLE_OF_CONTENTS) as source:
        refuse_unreasonable(source)
    contents = ElementTree.fromstring(archive.read(TABLE_OF_CONTENTS))
    told = [(part.get("PartName", ""), part.get("ContentType", "")) for part in contents]
    held = {name for name, kind in told if not kind.endswith(NOT_HELD)}
    return {name.removeprefix("/") for name, _ in told if name not in held}


def _is_picture(name: str) -> bool:
    return Path(name).suffix.lower() in PICTURES


def _refuse_held(archive: zipfile.ZipFile, part: zipfile.ZipInfo) -> None:
    """Refuse a part that the library holds in memory when it is out of all reason."""
    if part.file_size > MOST_BYTES_OF_A_PART:
        raise _too_large(part.file_size, 1)
    if part.is_dir() or not part.filename.endswith((".xml", ".rels", ".vml")):
        return
    with archive.open(part) as source:
        refuse_unreasonable(source)


def _damaged(fault: Exception) -> UnreadableError:
    reason = f"{type(fault).__name__}: {fault}"[:150]
    return UnreadableError(f"the file is damaged or not an .xlsx workbook ({reason}).", SAVE_AGAIN)


def _read_sheets(reader: ExcelReader, wanted: Callable[[str], bool]) -> RawBook:
    book: Any = reader.wb  # its read-only sheets are typed as full ones
    parts = {sheet.name: link.target for sheet, link in reader.parser.find_sheets()}
    tables: dict[str, RawTable] = {}
    messages: list[Message] = []
    for sheet in book.worksheets:
        if not wanted(sheet.title):
            continue
        collector = RowCollector()
        whole = False
        try:
            with reader.archive.open(parts[sheet.title]) as source:
                more = untold(source)
            # Some writers declare a wrong size; without one every cell is read.
            sheet.reset_dimensions()
            for number, row in enumerate(sheet.iter_rows(), start=1):
                collector.add(number, [_value(cell) for cell in row])
            rows = _marked(collector.rows, more.without_result)
            whole = True
            messages += _hidden(sheet.title, sheet.sheet_state, more.hidden_rows)
        except UnreadableError as fault:
            rows = collector.rows
            messages.append(Message(Level.ERROR, sheet.title, fault.what, fault.remedy))
        except Exception as fault:  # as above: damage inside one sheet
            rows = collector.rows
            messages.append(
                Message(Level.ERROR, sheet.title, f"the sheet is damaged ({fault}).", SAVE_AGAIN)
            )
        tables[sheet.title] = RawTable(sheet.title, tuple(rows), whole)
    for chart in book.chartsheets:
        if wanted(chart.title):
            what, remedy = (
                "the sheet is a chart and has no cells.",
                "Rename the chart, and add the table.",
            )
            messages.append(Message(Level.ERROR, chart.title, what, remedy))
            tables[chart.title] = RawTable(chart.title, (), whole=False)
    return RawBook(tables, tuple(book.sheetnames), tuple(messages))


def _value(cell: Any) -> object:
    value = cell.value
    if value is None:
        return None
    if cell.data_type == "e" or (isinstance(value, str) and value in ERROR_CODES):
        return error_cell(str(value))
    if isinstance(value, int | float) and not isinstance(value, bool):
        return PercentNumber(value) if _shows_percent(cell.number_format) else value
    return blank_to_none(value)


@cache
def _shows_percent(number_format: str) -> bool:
    return "%" in _LITERAL.sub("", number_format)


def _marked(rows: Rows, without_result: Iterable[tuple[int, int]]) -> Rows:
    """Put a mark into every cell whose formula has no stored result.

    Reading values alone cannot tell such a cell from an empty one.
    """
    cells_of = {number: list(cells) for number, cells in rows}
    for number, column in without_result:
        cells = cells_of.setdefault(number, [])
        cells.extend([None] * (column - len(cells)))
        cells[column - 1] = NO_RESULT
    return [(number, tuple(cells)) for number, cells in sorted(cells_of.items())]


def _hidden(title: str, state: str, rows: tuple[int, ...]) -> Iterable[Message]:
    """Note what a person does not see and might therefore think is left out."""
    read = "like any other"
    if state != "visible":
        yield Message(Level.NOTE, title, f"the sheet is hidden, and is read {read}.")
    if rows:
        several = f" and {len(rows) - 1:,} more are" if len(rows) > 1 else " is"
        what = f"row {rows[0]}{several} hidden, and read {read}."
        remedy = "Delete rows that are not meant."
        yield Message(Level.NOTE, f"{title}!A{rows[0]}", what, remedy)
