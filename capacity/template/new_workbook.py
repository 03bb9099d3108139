"""Write an empty workbook that is quick to fill in."""

import io
import os
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import xlsxwriter
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from capacity.errors import OutputError
from capacity.inputs.reading.cell_kinds import Kind, kind_of
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import SHEETS, HoursRow, Settings
from capacity.reports.kit import formats
from capacity.reports.kit.sheet import FOOT_CAUTION
from capacity.reports.kit.whole_file import write_whole
from capacity.template.lists import LAST_ROW, offer_of_setting, offers_of
from capacity.template.notes import note_of
from capacity.template.placeholders import Placeholders
from capacity.template.tables import Table, tables_of

MODELS = {model.sheet: model for model in SHEETS}

LOOKS: dict[Kind, dict[str, object]] = {
    Kind.TEXT: {"num_format": "@"},  # so that no name becomes a date or a number
    Kind.NAMES: {"num_format": "@"},
    Kind.CHOICE: {},
    Kind.NUMBER: {"num_format": "General", "align": "right"},
    Kind.DATE: {"num_format": "yyyy-mm-dd", "align": "left"},
    Kind.TIME: {"num_format": "hh:mm", "align": "left"},
}
NARROWEST, WIDEST = 11, 34  # characters
HEIGHT_OF_HEADINGS = 32  # points: two lines


def new_workbook(path: Path, wanted: Placeholders | None = None) -> None:
    """Write an empty workbook; ``capacity.verify`` then says what is to be filled in.

    Every sheet is there with its headings, each with a note, and lists to choose from where a
    value is one of a few words or the name of a row of another sheet.

    Raises
    ------
    OutputError
        When a file of that name is there already, or none can be written.
    """
    if os.path.lexists(path):
        raise OutputError(f"{path} is there already, and nothing is replaced. Name another file.")
    write_whole(workbook_bytes(wanted or Placeholders()), path)


def workbook_bytes(wanted: Placeholders) -> bytes:
    """Return the workbook as the bytes of an ``.xlsx`` file."""
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False}) as book:
        looks = {kind: book.add_format(look) for kind, look in LOOKS.items()}
        heading = book.add_format(formats.HEADING)
        for title, table in tables_of(wanted).items():
            sheet = book.add_worksheet(title)
            _write_headings(sheet, title, table[0], heading)
            if title == Settings.sheet:
                _write_settings(sheet, table, looks)
            else:
                _write_rows(sheet, table, MODELS[title], looks)
            sheet.freeze_panes(1, 1)
            sheet.set_footer(f"&L&8&A&C&8{FOOT_CAUTION}&R&8Page &P of &N")
            sheet.set_paper(9)  # A4
            sheet.set_landscape()
            sheet.fit_to_pages(1, 0)
            sheet.repeat_rows(0)
    return out.getvalue()


def _write_headings(sheet: Worksheet, title: str, headings: Sequence[object], look: Format) -> None:
    sheet.set_row(0, HEIGHT_OF_HEADINGS)
    for column, heading in enumerate(headings):
        sheet.write_string(0, column, str(heading), look)
        write_note(sheet, 0, column, note_of(title, str(heading)))


def write_note(sheet: Worksheet, row: int, column: int, note: str | None) -> None:
    """Write the note on a heading or a setting, in a box as large as it is long."""
    if note is not None:
        lines = 1 + len(note) // 32
        sheet.write_comment(row, column, note, {"x_scale": 1.6, "y_scale": max(0.5, lines / 4)})


def _write_settings(sheet: Worksheet, table: Table, looks: dict[Kind, Format]) -> None:
    sheet.set_column(0, 0, 24)
    sheet.set_column(1, 1, WIDEST)
    fields = Settings.headings()
    for number, (name, value) in enumerate(table[1:], start=1):
        sheet.write_string(number, 0, str(name))
        write_note(sheet, number, 0, note_of(Settings.sheet, str(name)))
        kind = kind_of(Settings, fields[str(name)]).kind
        write_cell(sheet, number, 1, value, looks[kind])
        if offer := offer_of_setting(str(name)):
            sheet.data_validation(number, 1, number, 1, offer.rule())


def _write_rows(
    sheet: Worksheet, table: Table, model: type[Row], looks: dict[Kind, Format]
) -> None:
    headings = [str(heading) for heading in table[0]]
    fields = model.headings()
    for column, heading in enumerate(headings):
        # A heading that is no column's own is a skill, with man-hours below it.
        kind = kind_of(model, fields.get(heading, "man_hours" if model is HoursRow else "")).kind
        typed = [len(str(row[column])) for row in table[1:] if row[column] is not None]
        width = max([len(word) for word in heading.split()] + typed) + 3
        sheet.set_column(column, column, min(max(width, NARROWEST), WIDEST), looks[kind])
        for number, row in enumerate(table[1:], start=1):
            if row[column] is not None:
                write_cell(sheet, number, column, row[column], looks[kind])
    for column, offer in offers_of(model.sheet, headings):
        sheet.data_validation(1, column, LAST_ROW - 1, column, offer.rule())


def write_cell(sheet: Worksheet, row: int, column: int, value: object, look: Format) -> None:
    """Write a value as what it is; a text never becomes a formula."""
    if value is None:
        sheet.write_blank(row, column, None, look)
    elif isinstance(value, date):
        sheet.write_datetime(row, column, value, look)
    elif isinstance(value, str):
        sheet.write_string(row, column, value, look)
    else:
        sheet.write(row, column, value, look)
