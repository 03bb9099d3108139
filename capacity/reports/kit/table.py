"""Tables declared column by column."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import ceil
from typing import Generic, TypeVar

from capacity.reports.kit.formats import HEADING, HEADING_RIGHT, MARKED, PLAIN, RULED, Look
from capacity.reports.kit.sheet import Cell, Sheet

Row = TypeVar("Row")

LINE = 15
"""Points of one line of text."""

GAP: Look = {"align": "left", "indent": 1}

MOST_POINTS = 409
"""The greatest height that a spreadsheet program gives a row."""


@dataclass(frozen=True, slots=True)
class Column(Generic[Row]):
    """A heading with its unit, the value of a row, and a width in characters.

    ``marked`` says whether the cell calls for attention; the text that says why stands in a
    column of its own.
    """

    heading: str
    value: Callable[[Row], Cell]
    look: Look = field(default_factory=lambda: PLAIN)
    marked: Callable[[Row], bool] | None = None
    width: float = 12


def write_sheet_table(
    sheet: Sheet, columns: Sequence[Column[Row]], rows: Sequence[Row], frozen_columns: int = 1
) -> None:
    """Fill a sheet with one table: frozen headings in the first row, filters, widths."""
    sheet.widths([max(column.width, _heading_width(column)) for column in columns])
    write_table(sheet, 0, columns, rows)
    sheet.freeze(1, frozen_columns)
    sheet.autofilter(len(rows), len(columns))


def write_table(sheet: Sheet, top: int, columns: Sequence[Column[Row]], rows: Sequence[Row]) -> int:
    """Write a table with its headings in row ``top``; return the first row below it."""
    gaps = _gaps(columns)
    for place, column in enumerate(columns):
        right = column.look.get("align") == "right"
        heading = HEADING_RIGHT if right else {**HEADING, **gaps[place]}
        sheet.write(top, place, column.heading, heading)
    sheet.height(top, _heading_points(columns))
    for number, row in enumerate(rows, start=top + 1):
        for place, column in enumerate(columns):
            marked = column.marked is not None and column.marked(row)
            look = {**column.look, **gaps[place], **RULED, **(MARKED if marked else {})}
            sheet.write(number, place, column.value(row), look)
        if (points := _row_points(columns, row)) > LINE:
            sheet.height(number, points)
    return top + 1 + len(rows)


def _heading_width(column: Column[Row]) -> float:
    """Return how wide a column must be for no word of its heading to be cut, in characters."""
    return max(map(len, column.heading.split()), default=0) + 2


def table_points(columns: Sequence[Column[Row]], rows: Sequence[Row]) -> float:
    """Return how high a table is with its headings, in points."""
    return _heading_points(columns) + sum(_row_points(columns, row) for row in rows)


def _heading_points(columns: Sequence[Column[Row]]) -> float:
    return LINE * max(map(_heading_lines, columns)) + 4


def _row_points(columns: Sequence[Column[Row]], row: Row) -> float:
    return min(LINE * max(_lines(column, row) for column in columns), MOST_POINTS)


def _gaps(columns: Sequence[Column[Row]]) -> list[Look]:
    """Return what keeps a text away from the number that ends at its left edge."""
    right = [column.look.get("align") == "right" for column in columns]
    return [
        GAP if before and not here else {}
        for before, here in zip([False, *right], right, strict=False)
    ]


def _heading_lines(column: Column[Row]) -> int:
    # Bold, and a word too many for a line goes to the next: a line is three quarters full.
    return ceil(len(column.heading) / (0.75 * column.width))


def _lines(column: Column[Row], row: Row) -> int:
    """Return the lines of a cell; not every program finds the height of a row by itself."""
    if "text_wrap" not in column.look:
        return 1
    return ceil(len(str(column.value(row))) / (0.9 * column.width))
