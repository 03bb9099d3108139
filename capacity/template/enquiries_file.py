"""A workbook of enquiries to fill in: the columns of a check, with notes and lists to choose from.

``capacity enquiry --enquiries`` reads it, and so does the page Commercial of the dashboard.
"""

import io
from collections.abc import Mapping, Sequence
from datetime import date

import xlsxwriter
from xlsxwriter.format import Format
from xlsxwriter.utility import xl_col_to_name
from xlsxwriter.worksheet import Worksheet

from capacity.facts import Base
from capacity.inputs.reading.cell_kinds import Kind
from capacity.inputs.typed_enquiries import TYPED, kind_of_column
from capacity.reports.kit import formats
from capacity.template.lists import LAST_ROW, Offer
from capacity.template.new_workbook import HEIGHT_OF_HEADINGS, LOOKS, write_cell, write_note
from capacity.template.notes import note_of

SHEET, LISTS = "Enquiries", "Lists"
WIDTHS = {"Customer": 18, "Type": 18, "Package": 22}
USUAL_WIDTH = 13

NOTES = {
    "Check": "What the enquiry is called; no check of the workbook has this name.",
    "Aircraft": "Registration of the aircraft, or any name for it.",
    "Third party": "yes: a customer's aircraft. no: of the own fleet.",
    "Earliest in": "First day on which the aircraft can come in.",
    "Latest in": "Last day on which it can come in.",
    "Price": "Price that is offered; blank: none yet.",
    "Decide by": "The day by which the customer decides; it may be blank.",
}
"""Of columns that mean something else, or less, for an enquiry than for a check."""


def note_of_column(heading: str) -> str:
    """Return what stands in a column of enquiries."""
    return NOTES.get(heading) or note_of("Checks", heading) or ""


def enquiries_file(base: Base, rows: Sequence[Mapping[str, object]] = ()) -> bytes:
    """Return an ``.xlsx`` file with the sheet ``Enquiries``, with these rows in it.

    Types and packages are offered as the base has them, on a sheet of their own. Values of a row
    are under their headings; those under other headings than an enquiry has are left out.
    """
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False}) as book:
        looks = {kind: book.add_format(look) for kind, look in LOOKS.items()}
        heading = book.add_format(formats.HEADING)
        sheet = book.add_worksheet(SHEET)
        sheet.set_row(0, HEIGHT_OF_HEADINGS)
        sheet.freeze_panes(1, 1)
        offers = _write_lists(book.add_worksheet(LISTS), base, heading, looks[Kind.TEXT])
        for place, title in enumerate(TYPED):
            _write_column(sheet, place, title, heading, looks)
            offer = offers.get(title) or _words(title)
            if offer is not None:
                sheet.data_validation(1, place, LAST_ROW - 1, place, offer.rule())
        for number, row in enumerate(rows, start=1):
            for place, title in enumerate(TYPED):
                value = row.get(title)
                if isinstance(value, str | int | float | date):
                    write_cell(sheet, number, place, value, looks[kind_of_column(title).kind])
    return out.getvalue()


def _write_column(
    sheet: Worksheet, place: int, title: str, heading: Format, looks: Mapping[Kind, Format]
) -> None:
    width = WIDTHS.get(title, USUAL_WIDTH)
    sheet.set_column(place, place, width, looks[kind_of_column(title).kind])
    sheet.write_string(0, place, title, heading)
    write_note(sheet, 0, place, note_of_column(title))


def _words(title: str) -> Offer | None:
    choices = kind_of_column(title).choices
    return Offer(choices) if choices else None


def _write_lists(sheet: Worksheet, base: Base, heading: Format, look: Format) -> dict[str, Offer]:
    """Write the names of types and packages, and return what their columns offer."""
    named = {
        "Type": [one.name for one in base.types],
        "Package": [one.name for one in base.packages],
    }
    offers = {}
    for place, (title, names) in enumerate(named.items()):
        sheet.set_column(place, place, WIDTHS[title], look)
        sheet.write_string(0, place, title, heading)
        for number, name in enumerate(names, start=1):
            sheet.write_string(number, place, name, look)
        letter = xl_col_to_name(place, col_abs=True)
        offers[title] = Offer(f"='{LISTS}'!{letter}$2:{letter}${max(2, len(names) + 1)}")
    return offers
