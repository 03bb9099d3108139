"""What the spreadsheet library does not tell about a sheet, looked up in the sheet's own XML."""

import re
from dataclasses import dataclass
from typing import IO
from xml.etree import ElementTree
from zipfile import ZipFile

from openpyxl.utils import column_index_from_string

BLOCK = 1_000_000  # bytes looked at at once
LONGEST_MARK = 40  # bytes; a mark that two blocks cut in two is still seen

_MARKS = re.compile(rb'<(?:\w+:)?f[\s/>]|\shidden="(?:1|true)"')


@dataclass(frozen=True, slots=True)
class Untold:
    """Cells by row and column whose formula has no stored result; hidden rows with cells."""

    without_result: tuple[tuple[int, int], ...] = ()
    hidden_rows: tuple[int, ...] = ()


def untold(archive: ZipFile, part: str) -> Untold:
    """Return what stands in one part of a workbook; most sheets need no second reading."""
    with archive.open(part) as source:
        if not _has_marks(source):
            return Untold()
    without_result: list[tuple[int, int]] = []
    hidden_rows: list[int] = []
    with archive.open(part) as source:
        for _, element in ElementTree.iterparse(source):
            if element.tag.rpartition("}")[2] != "row":
                continue
            cells = [cell for cell in element if len(cell)]
            without_result += [_place(cell) for cell in cells if _lacks_result(cell)]
            if cells and element.get("hidden") in ("1", "true"):
                hidden_rows.append(_place(cells[0])[0])
            element.clear()
    return Untold(tuple(without_result), tuple(hidden_rows))


def _has_marks(source: IO[bytes]) -> bool:
    overlap = b""
    while block := source.read(BLOCK):
        if _MARKS.search(overlap + block):
            return True
        overlap = block[-LONGEST_MARK:]
    return False


def _lacks_result(cell: ElementTree.Element) -> bool:
    """Whether a cell has a formula and neither a value nor empty text."""
    has_formula = cell.find("{*}f") is not None
    return has_formula and cell.get("t") != "str" and not cell.findtext("{*}v")


def _place(cell: ElementTree.Element) -> tuple[int, int]:
    """Return row and column of a cell, from its name such as ``F17``."""
    name = cell.get("r", "")
    letters = name.rstrip("0123456789")
    return int(name[len(letters) :]), column_index_from_string(letters)
