"""An ``.xlsx`` file as raw tables, read within bounds and never written to."""

import re
import warnings
import zipfile
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import IO, Any
from xml.etree import ElementTree

import openpyxl
from openpyxl.utils import column_index_from_string

from capacity.findings import Finding, Level
from capacity.inputs.raw import (
    ERROR_CODES,
    PercentNumber,
    RawBook,
    RawTable,
    RowCollector,
    TooLargeError,
    UnreadableCell,
    UnreadableFileError,
    blank_to_none,
    error_cell,
)

MEGABYTE = 1_000_000
MOST_BYTES = 200 * MEGABYTE
MOST_BYTES_OF_A_PART = 20 * MEGABYTE  # shared texts and styles are held in memory
MOST_PARTS = 2_000

OLE_SIGNATURE = bytes.fromhex("D0CF11E0A1B11AE1")
SAVE_AGAIN = "Open it in a spreadsheet program and save it as an .xlsx workbook."
NO_RESULT = UnreadableCell(
    "holds a formula without a stored result.",
    "Open the workbook in a spreadsheet program and save it there, or type the value.",
)
_LITERAL = re.compile(r'"[^"]*"|\\.')  # parts of a number format that are shown as they are
_ANY_FORMULA = re.compile(rb"<(?:\w+:)?f[\s/>]")


def read_workbook(path: Path, wanted: Callable[[str], bool]) -> RawBook:
    """Return the wanted sheets of a workbook.

    Raises
    ------
    UnreadableFileError
        When the file is no workbook, is damaged or protected, or is too large.
    """
    with path.open("rb") as stream:
        _refuse_other_kinds(stream.read(8))
        _refuse_bombs(stream)
        stream.seek(0)
        with warnings.catch_warnings():
            # The library warns of drawings and the like, which are not read here anyway.
            warnings.simplefilter("ignore")
            try:
                book = openpyxl.load_workbook(
                    stream, read_only=True, data_only=True, keep_links=False
                )
            except Exception as fault:  # damaged parts fail in many ways, none of them ours
                raise _damaged(fault) from fault
            try:
                return _read_sheets(book, stream, wanted)
            finally:
                book.close()


def _refuse_other_kinds(signature: bytes) -> None:
    if not signature:
        raise UnreadableFileError("the file is empty.", SAVE_AGAIN)
    if signature == OLE_SIGNATURE:
        raise UnreadableFileError(
            "the file is protected by a password, or of the old .xls kind.",
            "Save it as an .xlsx workbook without a password.",
        )
    if not signature.startswith(b"PK"):
        raise UnreadableFileError("the file is not an .xlsx workbook.", SAVE_AGAIN)


def _refuse_bombs(stream: IO[bytes]) -> None:
    """Look at the sizes that the archive declares, before anything is unpacked.

    More bytes than declared are never unpacked: the archive reader stops there.
    """
    try:
        with zipfile.ZipFile(stream) as archive:
            parts = archive.infolist()
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError) as fault:
        raise _damaged(fault) from fault
    if any(part.flag_bits & 1 for part in parts):
        raise UnreadableFileError(
            "the file is protected by a password.", "Save it without a password."
        )
    total = sum(part.file_size for part in parts)
    held = [
        part.file_size
        for part in parts
        if part.filename.endswith(".xml")
        and not part.filename.startswith(("xl/worksheets/", "xl/pivotCache/"))
    ]
    if total > MOST_BYTES or len(parts) > MOST_PARTS or max(held, default=0) > MOST_BYTES_OF_A_PART:
        raise UnreadableFileError(
            f"the file would unpack to {total / MEGABYTE:,.0f} MB in {len(parts):,} parts, "
            "which is more than any input of this kind.",
            "Copy the tables into a new workbook.",
        )


def _damaged(fault: Exception) -> UnreadableFileError:
    reason = f"{type(fault).__name__}: {fault}"[:150]
    return UnreadableFileError(
        f"the file is damaged or not an .xlsx workbook ({reason}).", SAVE_AGAIN
    )


def _read_sheets(book: Any, stream: IO[bytes], wanted: Callable[[str], bool]) -> RawBook:
    tables: dict[str, RawTable] = {}
    findings: list[Finding] = []
    for sheet in book.worksheets:
        if not wanted(sheet.title):
            continue
        collector = RowCollector()
        whole = False
        try:
            # Some writers declare a wrong size; without one every cell is read.
            sheet.reset_dimensions()
            for number, row in enumerate(sheet.iter_rows(), start=1):
                collector.add(number, [_value(cell) for cell in row])
            rows = _mark_formulas(collector.rows, stream, sheet)
            whole = True
        except TooLargeError as fault:
            rows = collector.rows
            findings.append(Finding(Level.ERROR, sheet.title, fault.what, fault.remedy))
        except Exception as fault:  # as above: damage inside one sheet
            rows = collector.rows
            findings.append(
                Finding(Level.ERROR, sheet.title, f"the sheet is damaged ({fault}).", SAVE_AGAIN)
            )
        tables[sheet.title] = RawTable(sheet.title, tuple(rows), whole)
    return RawBook(tables, tuple(book.sheetnames), tuple(findings))


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


def _mark_formulas(
    rows: list[tuple[int, tuple[object, ...]]], stream: IO[bytes], sheet: Any
) -> list[tuple[int, tuple[object, ...]]]:
    """Put a mark into every cell whose formula has no stored result.

    Reading values alone cannot tell such a cell from an empty one.
    """
    found: dict[int, list[int]] = {}
    with zipfile.ZipFile(stream) as archive:
        part = sheet._worksheet_path  # the library knows it, but offers no public way to ask
        if not _has_formulas(archive, part):
            return rows
        for row, column in _formulas_without_result(archive, part):
            found.setdefault(row, []).append(column)
    cells_of = {number: list(cells) for number, cells in rows}
    for number, columns in found.items():
        cells = cells_of.setdefault(number, [])
        cells.extend([None] * (max(columns) - len(cells)))
        for column in columns:
            cells[column - 1] = NO_RESULT
    return [(number, tuple(cells)) for number, cells in sorted(cells_of.items())]


def _has_formulas(archive: zipfile.ZipFile, part: str) -> bool:
    overlap = b""
    with archive.open(part) as source:
        while block := source.read(MEGABYTE):
            if _ANY_FORMULA.search(overlap + block):
                return True
            overlap = block[-40:]
    return False


def _formulas_without_result(archive: zipfile.ZipFile, part: str) -> Iterator[tuple[int, int]]:
    """Yield row and column of the cells with a formula and neither a value nor empty text."""
    with archive.open(part) as source:
        for _, element in ElementTree.iterparse(source):
            kind = element.tag.rpartition("}")[2]
            if kind == "row":
                element.clear()
            if kind != "c" or element.find("{*}f") is None or element.get("t") == "str":
                continue
            if not element.findtext("{*}v") and (place := element.get("r")):
                letters = place.rstrip("0123456789")
                yield int(place[len(letters) :]), column_index_from_string(letters)
