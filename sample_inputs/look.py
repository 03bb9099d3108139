"""Write tables as a workbook that is pleasant to work in."""

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from pathlib import Path

import xlsxwriter
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from capacity.template.lists import LAST_ROW, offers_of
from capacity.template.notes import note_of

Table = Sequence[Sequence[object]]

# Fixed, so that writing the same tables again gives the same file.
WRITTEN = datetime(2026, 11, 2)
AUTHOR = "Stonemere planning"

HEADING = {
    "bold": True,
    "font_color": "#FFFFFF",
    "bg_color": "#1F4E5F",
    "text_wrap": True,
    "valign": "vcenter",
    "indent": 1,
    "border": 1,
    "border_color": "#FFFFFF",
}
FORMATS: dict[type, dict[str, object]] = {
    str: {"align": "left"},
    int: {"num_format": "#,##0", "align": "right"},
    float: {"num_format": "0.0#", "align": "right"},
    date: {"num_format": "yyyy-mm-dd", "align": "left"},
    time: {"num_format": "hh:mm", "align": "left"},
}
MIXED = "Base"  # numbers, dates and text share a column here, so all stand at its left
NARROWEST, WIDEST = 9, 80  # characters
LONGEST_HEADING = 14  # characters; a longer one goes over two lines


def write_book(tables: Mapping[str, Table], path: Path) -> None:
    """Write one sheet a table; its first row are the headings."""
    with xlsxwriter.Workbook(path) as book:
        book.set_properties(
            {
                "title": path.stem,
                "author": AUTHOR,
                "comments": "Invented data; no real base, operator or aircraft.",
                "created": WRITTEN,
            }
        )
        heading = book.add_format(HEADING)
        formats = {kind: book.add_format({**look, "indent": 1}) for kind, look in FORMATS.items()}
        to_the_left = {
            kind: book.add_format({**look, "indent": 1, "align": "left"})
            for kind, look in FORMATS.items()
        }
        for title, table in tables.items():
            sheet = book.add_worksheet(title)
            _write_headings(sheet, title, table[0], heading)
            _write_rows(sheet, table[1:], to_the_left if title == MIXED else formats)
            _set_widths(sheet, table)
            sheet.freeze_panes(1, 1)
            _print_on_pages_one_wide(sheet)


def cell_value(written: object) -> object:
    """Return a date or time for text that reads as one, such as 2027-01-04 or 06:30."""
    if isinstance(written, str) and re.fullmatch(r"\d{4}-\d\d-\d\d", written):
        return date.fromisoformat(written)
    if isinstance(written, str) and re.fullmatch(r"\d\d:\d\d", written):
        return time.fromisoformat(written)
    return written


def _write_headings(sheet: Worksheet, title: str, headings: Sequence[object], look: Format) -> None:
    sheet.set_row(0, 32)
    for column, heading in enumerate(headings):
        sheet.write_string(0, column, str(heading), look)
        if note := note_of(title, str(heading)):
            sheet.write_comment(0, column, note, {"author": AUTHOR, "x_scale": 1.6})
    if title == MIXED:
        return
    for column, offer in offers_of(title, [str(heading) for heading in headings]):
        sheet.data_validation(1, column, LAST_ROW - 1, column, offer.rule())


def _write_rows(sheet: Worksheet, rows: Table, formats: Mapping[type, Format]) -> None:
    for number, row in enumerate(rows, start=1):
        for column, written in enumerate(row):
            value = cell_value(written)
            if value is None:
                continue
            if isinstance(value, str):
                sheet.write_string(number, column, value, formats[str])
            elif isinstance(value, date | time):
                sheet.write_datetime(number, column, value, formats[type(value)])
            else:
                sheet.write(number, column, value, formats.get(type(value)))


def _set_widths(sheet: Worksheet, table: Table) -> None:
    for column, heading in enumerate(table[0]):
        cells = [len(str(row[column])) for row in table[1:] if row[column] is not None]
        widest = max([min(len(str(heading)), LONGEST_HEADING), *cells])
        sheet.set_column(column, column, min(max(widest + 4, NARROWEST), WIDEST))


def _print_on_pages_one_wide(sheet: Worksheet) -> None:
    sheet.set_paper(9)  # A4
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(0)
