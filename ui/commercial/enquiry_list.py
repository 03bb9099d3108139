"""Enquiries in rows: an uploaded file, bounded, and a table typed on the page."""

import tempfile
from collections.abc import Sequence
from pathlib import Path

from capacity.facts import Base, Check
from capacity.inputs.enquiries_workbook import TypedRow
from capacity.inputs.limited import Wanted, always, enquiry_rows
from capacity.inputs.typed_enquiries import typed_enquiries
from capacity.messages import Level, Message, error
from capacity.questions.enquiries.asked import with_last_in_time

MOST_MEGABYTES = 2
MOST_BYTES = MOST_MEGABYTES * 1_000_000
MOST_ENQUIRIES = 40
"""More would keep the machine busy for longer than a caller waits."""


def rows_of_file(
    name: str, content: bytes, base: Base, still_wanted: Wanted = always
) -> tuple[tuple[TypedRow, ...], tuple[Message, ...]]:
    """Return the rows of a workbook or a CSV file as they stand, and all messages about it.

    No rows where there are more than can be asked about at once.
    """
    if len(content) > MOST_BYTES:
        what = f"the file has {len(content):,} bytes; a list may have {MOST_BYTES:,} at most."
        return (), (error("Enquiries", what, "Keep only the sheet Enquiries in it."),)
    with tempfile.TemporaryDirectory() as folder:
        is_csv = Path(name).suffix.lower() == ".csv"
        path = Path(folder) / ("Enquiries.csv" if is_csv else "enquiries.xlsx")
        path.write_bytes(content)
        rows, messages = enquiry_rows(path.parent if is_csv else path, base, still_wanted)
    if len(rows) > MOST_ENQUIRIES:
        return (), (*messages, _too_many(len(rows)))
    return rows, tuple(messages)


def read_typed(
    rows: Sequence[TypedRow], base: Base
) -> tuple[tuple[Check, ...], tuple[Message, ...]]:
    """Return the enquiries of a table and all messages; no enquiries when any is an error."""
    typed = sum(1 for row in rows if row)
    if not typed:
        remedy = "Fill in a row for each aircraft: Type, Package and Earliest in at least."
        return (), (error("the table", "no enquiry is typed yet.", remedy),)
    if typed > MOST_ENQUIRIES:
        return (), (_too_many(typed),)
    enquiries, untold, messages = typed_enquiries(rows, base)
    if any(message.level is Level.ERROR for message in messages):
        return (), messages
    told = (with_last_in_time(one, base) if one.name in untold else one for one in enquiries)
    return tuple(told), messages


def _too_many(number: int) -> Message:
    what = f"there are {number} enquiries; {MOST_ENQUIRIES} can be asked about at once."
    return error("Enquiries", what, "Ask about the others afterwards.")
