"""Sheets of a workbook that was just written, as tests look at them."""

import io
from datetime import datetime

import openpyxl
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from tests.reference.stories import day

KINDS_OF_COST = (
    "Overtime",
    "Contract labour",
    "Overload",
    "Unused interval",
    "Late out",
    "Price of options taken (earned)",
)


def opened(content: bytes) -> Workbook:
    return openpyxl.load_workbook(io.BytesIO(content))


def table(sheet: Worksheet) -> dict[object, dict[str, object]]:
    """Return the rows by their first cell; the first row holds the headings."""
    headings, *rows = sheet.iter_rows(values_only=True)
    return {row[0]: dict(zip(map(str, headings), row, strict=True)) for row in rows}


def row_of(sheet: Worksheet, label: str) -> list[object]:
    """Return the only row whose first cell holds the label."""
    (row,) = (list(r) for r in sheet.iter_rows(values_only=True) if r[0] == label)
    return row


def texts(book: Workbook) -> list[str]:
    cells = (cell.value for sheet in book for row in sheet.iter_rows() for cell in row)
    return [value for value in cells if isinstance(value, str)]


def at(number: int) -> datetime:
    return datetime.combine(day(number), datetime.min.time())
