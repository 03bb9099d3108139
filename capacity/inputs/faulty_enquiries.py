"""What else is wrong with rows of enquiries in which some cells cannot be read."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from openpyxl.utils import column_index_from_string

from capacity.facts import Base, Check
from capacity.inputs.enquiry_faults import EnquiryRow, check_of, faults_of_enquiries
from capacity.inputs.reading.cells import FIRST_YEAR, LAST_YEAR
from capacity.inputs.reading.raw import RawTable
from capacity.inputs.reading.row_model import validate
from capacity.inputs.reading.rows import SheetRows
from capacity.messages import Message


def faults_beside(
    table: RawTable, rows: SheetRows[EnquiryRow], base: Base, messages: Sequence[Message]
) -> Iterator[Message]:
    """Yield the faults of rows that could not be read, beside those that ``messages`` name.

    A cell with a message holds something harmless in its place, and nothing more is said of it: so
    a person hears of an unknown type at once, and not only when the date beside it is mended.
    """
    letters = rows.places.letters
    if not set(EnquiryRow.needed_headings()) <= set(letters):
        return  # no rule speaks of half a sheet
    told = {message.where for message in messages}
    read = {row.row for row in rows.rows}
    for number, cells in table.rows[1:]:
        values, wrong = {}, set()
        for heading, letter in letters.items():
            place = column_index_from_string(letter) - 1
            if f"{rows.places.label}!{letter}{number}" in told:
                wrong.add(heading)
            elif place < len(cells) and cells[place] is not None:
                values[heading] = cells[place]
        if number in read or not values:
            continue
        row, _ = validate(EnquiryRow, number, _filled(values, base))
        if row is not None:
            yield from _of_row(row, wrong, rows, base)


def _of_row(
    row: EnquiryRow, wrong: set[str], rows: SheetRows[EnquiryRow], base: Base
) -> Iterator[Message]:
    def at(check: Check, field: str) -> str:
        heading = row.heading(field)
        return "" if heading in wrong else rows.places.cell(row.row, heading)

    for fault in faults_of_enquiries([check_of(row)], base, at):
        if fault.where:
            yield fault


def _filled(values: Mapping[str, object], base: Base) -> Mapping[str, object]:
    """Return a row with what is harmless for each cell that must be filled and is not there."""
    packages = {package.name: package for package in base.packages}
    types = [aircraft.name for aircraft in base.types]
    package = packages.get(str(values.get("Package", "")))
    if package is not None and package.types:
        types = [name for name in types if package.is_for(name)] or types
    chosen = str(values.get("Type", types[0] if types else ""))
    fitting = [one.name for one in base.packages if one.is_for(chosen)] or list(packages)
    harmless: dict[str, object] = {
        "Check": "an enquiry without a name",
        "Aircraft": "an aircraft without a name",
        "Type": chosen,
        "Package": fitting[0] if fitting else "",
        "Earliest in": date(FIRST_YEAR, 1, 1),
        "Latest in": date(LAST_YEAR, 12, 31),
    }
    return {**harmless, **values}
