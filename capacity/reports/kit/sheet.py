"""A typed door to XlsxWriter; every value that reaches a cell passes through here."""

from collections.abc import Sequence
from datetime import date, datetime
from io import BytesIO
from typing import Any

import xlsxwriter

from capacity.plans.plan import Plan
from capacity.reports.kit.cell_text import inert
from capacity.reports.kit.formats import PLAIN, Look
from capacity.reports.kit.issue import issue_line, now

Cell = str | int | float | date | None

A3, A4 = 8, 9

BOTTOM_MARGIN = 0.75
"""Inches: room for two lines of a footer."""

FOOT_CAUTION = "A planning aid: approved data, local rules and licensed staff come first."
"""Short, since the three parts of a footer share the width of an upright page."""


class Book:
    """A workbook in memory."""

    def __init__(
        self, title: str, plans: Sequence[Plan] = (), issued: datetime | None = None
    ) -> None:
        """Open an empty workbook in which a text is never a formula nor a link.

        Every sheet says at its foot of which plans it is and when it was issued: now.
        """
        self._issue = issue_line(plans, issued or now())
        self._stream = BytesIO()
        options = {
            "in_memory": True,
            "strings_to_formulas": False,
            "strings_to_urls": False,
            "strings_to_numbers": False,
        }
        self._book: Any = xlsxwriter.Workbook(self._stream, options)
        self._book.set_properties({"title": inert(title)})
        self._formats: dict[tuple[tuple[str, object], ...], Any] = {}

    def sheet(self, name: str, paper: int = A4, upright: bool = False) -> "Sheet":
        """Add a sheet that prints one page wide, landscape unless ``upright``."""
        sheet = self._book.add_worksheet(name)
        if not upright:
            sheet.set_landscape()
        sheet.set_paper(paper)
        sheet.fit_to_pages(1, 0)
        sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=BOTTOM_MARGIN)
        sheet.set_footer(f"&L&8&A\n{self._issue}&C&8\n{FOOT_CAUTION}&R&8Page &P of &N")
        return Sheet(self, sheet)

    def chart(self, kind: str, subtype: str | None = None) -> Any:
        """Add a native chart, to be put on a sheet."""
        options = {"type": kind} | ({"subtype": subtype} if subtype else {})
        return self._book.add_chart(options)

    def format_of(self, look: Look) -> Any:
        """Return the format of a look; equal looks share one."""
        key = tuple(sorted(look.items()))
        if key not in self._formats:
            self._formats[key] = self._book.add_format(dict(look))
        return self._formats[key]

    def content(self) -> bytes:
        """Close the workbook and return it as the bytes of a file."""
        self._book.close()
        return self._stream.getvalue()


class Sheet:
    """One sheet; rows and columns count from 0."""

    def __init__(self, book: Book, sheet: Any) -> None:
        """Wrap a worksheet of the book."""
        self._book = book
        self._sheet = sheet

    def write(self, row: int, column: int, value: Cell, look: Look = PLAIN) -> None:
        """Write a value as what it is: a text as text, a date as a date, a number as a number."""
        style = self._book.format_of(look)
        match value:
            case None:
                self._sheet.write_blank(row, column, None, style)
            case str():
                self._sheet.write_string(row, column, inert(value), style)
            case date():
                self._sheet.write_datetime(row, column, value, style)
            case _:
                self._sheet.write_number(row, column, value, style)

    def write_row(self, row: int, values: Sequence[Cell], look: Look = PLAIN) -> None:
        """Write values side by side from the first column on."""
        for column, value in enumerate(values):
            self.write(row, column, value, look)

    def run(self, row: int, first: int, last: int, value: Cell, look: Look, rows: int = 1) -> None:
        """Write one value over the columns ``first`` to ``last`` and over ``rows`` rows."""
        if first < last or rows > 1:
            style = self._book.format_of(look)
            self._sheet.merge_range(row, first, row + rows - 1, last, "", style)
        self.write(row, first, value, look)

    def widths(self, widths: Sequence[float], first: int = 0) -> None:
        """Set column widths, in characters, from the column ``first`` on."""
        for column, width in enumerate(widths, start=first):
            self._sheet.set_column(column, column, width)

    def height(self, row: int, points: float) -> None:
        """Set the height of a row."""
        self._sheet.set_row(row, points)

    def freeze(self, rows: int, columns: int = 0) -> None:
        """Keep the first rows and columns in sight, and repeat the rows on every page."""
        self._sheet.freeze_panes(rows, columns)
        if rows:
            self._sheet.repeat_rows(0, rows - 1)
        if columns:
            self._sheet.repeat_columns(0, columns - 1)

    def autofilter(self, rows: int, columns: int) -> None:
        """Put filter buttons on a table of ``rows`` rows whose headings are the first row."""
        self._sheet.autofilter(0, 0, max(rows, 1), columns - 1)

    def pages_wide(self, pages: int) -> None:
        """Print over more pages side by side."""
        self._sheet.fit_to_pages(pages, 0)

    def columns_of_pages(self, columns: Sequence[int], percent: int) -> None:
        """Begin a new page left of each of the columns, all of them at that scale.

        Spreadsheet programs heed breaks only at a scale of their own, not where a sheet is to
        fit.
        """
        self._sheet.set_print_scale(percent)
        self._sheet.set_v_pagebreaks(list(columns))

    def scale(self, percent: int) -> None:
        """Print at that scale instead of one page wide."""
        self._sheet.set_print_scale(percent)

    def page_breaks(self, rows: Sequence[int]) -> None:
        """Begin a new page above each of the rows."""
        self._sheet.set_h_pagebreaks(list(rows))

    def hide_gridlines(self) -> None:
        """Show and print no gridlines."""
        self._sheet.hide_gridlines(2)

    def insert_chart(self, row: int, column: int, chart: Any) -> None:
        """Put a chart with its corner on a cell."""
        self._sheet.insert_chart(row, column, chart)
