"""Enquiries that a person types into a table on a page, a row each, read as those of a file."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

from capacity.facts import Base, Check
from capacity.inputs.enquiries_workbook import TypedRow, enquiries_of
from capacity.inputs.enquiry_faults import EnquiryRow
from capacity.inputs.reading.cell_kinds import CellKind, Kind, kind_of
from capacity.inputs.reading.raw import RawTable, UntypedText
from capacity.messages import Message

TYPED = (
    "Check", "Type", "Package", "Earliest in", "Latest in", "Agreed out", "Agreed days", "Price",
    "Late cost per day", "Customer", "Aircraft", "Third party", "Wanted in",
    "Cost per day from Wanted in", "Early cost per day", "Findings factor", "Decide by",
)  # fmt: skip
"""The columns in which an enquiry is typed, what a caller says first in front.

The others of a check mean nothing for an aircraft that is asked about.
"""

CHECK, AIRCRAFT, LATEST = "Check", "Aircraft", "Latest in"
LABEL = "Table"
_CELL = re.compile(rf"{LABEL}(?:!([A-Z]*)(\d+))?")


def kind_of_column(heading: str) -> CellKind:
    """Return what kind of value stands under a heading."""
    return kind_of(EnquiryRow, EnquiryRow.headings()[heading])


def typed_enquiries(
    rows: Sequence[TypedRow], base: Base
) -> tuple[tuple[Check, ...], frozenset[str], tuple[Message, ...]]:
    """Return the enquiries, which of them have no ``Latest in``, and everything worth saying.

    A message names row and column; rows are counted from 1, blank ones too. Without a name an
    enquiry is called by its row, and its aircraft as the enquiry; without ``Latest in`` it has the
    last in day of the plan, or its own ``Earliest in`` should that be later.
    """
    headings = tuple(dict.fromkeys((*TYPED, *(heading for row in rows for heading in row))))
    names = {str(row[CHECK]).strip() for row in rows if CHECK in row}
    filled = [_filled(number, row, names, base) for number, row in enumerate(rows, start=1)]
    cells = [tuple(_cell(heading, row.get(heading)) for heading in headings) for row in filled]
    table = RawTable(LABEL, ((0, headings), *enumerate(cells, start=1)))
    checks, messages = enquiries_of(table, base, [])
    blank = {
        " ".join(str(full[CHECK]).split())
        for row, full in zip(rows, filled, strict=True)
        if row and LATEST not in row
    }
    told = tuple(replace(one, where=_in_words(one.where, headings)) for one in messages)
    return checks, frozenset(blank), told


def _filled(number: int, row: TypedRow, names: set[str], base: Base) -> Mapping[str, object]:
    """Return a row with what may be left blank on a page, though not in a file."""
    if not row:
        return row
    name = row.get(CHECK) or next(one for one in _names(number) if one not in names)
    first = row.get("Earliest in")
    latest = max(base.last_in_day, first) if isinstance(first, date) else base.last_in_day
    return {CHECK: name, AIRCRAFT: name, LATEST: latest, **row}


def _names(number: int) -> Iterator[str]:
    yield f"Enquiry {number}"
    yield from (f"Enquiry {number}-{more}" for more in range(2, 10_000))


def _cell(heading: str, value: object) -> object:
    """Return a cell as the reader takes it; a text may stand for a number or a date."""
    if not isinstance(value, str):
        return value
    kind = kind_of_column(heading).kind
    return UntypedText(value) if kind in (Kind.NUMBER, Kind.DATE) else value


def _in_words(where: str, headings: Sequence[str]) -> str:
    """Return ``row 2, Latest in`` for ``Table!G2``; what is no cell of the table as it is."""
    found = _CELL.fullmatch(where)
    if found is None:
        return where
    letters, number = found[1], found[2]
    if number is None:
        return "the table"
    place = 0
    for letter in letters:
        place = 26 * place + ord(letter) - ord("A") + 1
    return f"row {number}, {headings[place - 1]}" if place else f"row {number}"
