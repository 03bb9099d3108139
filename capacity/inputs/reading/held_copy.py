"""A copy of a workbook in which some checks are held in a bay and on a day."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path

from capacity.errors import InputError
from capacity.inputs.reading.edited_copy import SheetEdit, SheetTable, sheet_tables
from capacity.inputs.reading.places import same
from capacity.inputs.reading.sheets import CheckRow
from capacity.inputs.reading.spliced_copy import spliced_copy
from capacity.messages import Level, Message

Slot = tuple[str | None, date | None]
"""The bay and the in day in which a check is held, None where it is not held in that."""

Held = Mapping[str, Slot]
"""By check where it is held; in neither where it is held no longer."""

HELD, FIXED_BAY, FIXED_IN = "Held", "Fixed bay", "Fixed in"
WORDS = {(True, True): "both", (True, False): "bay", (False, True): "in day"}


def held_copy(path: Path, held: Held) -> bytes:
    """Return a copy of the workbook with the columns of ``Held`` filled in; all else stays.

    Raises
    ------
    InputError
        When the workbook cannot be read or copied, or has no row of one of the checks.
    """
    (table,) = sheet_tables(path, (CheckRow.sheet,))
    return spliced_copy(path, [held_edit(table, held)])


def held_edit(table: SheetTable, held: Held) -> SheetEdit:
    """Return the change of the sheet ``Checks``; raises ``InputError`` where a row is missing."""
    rows = {same(_name(row.values.get("Check"))): row for row in table.rows}
    missing = [name for name in held if same(name) not in rows]
    if missing:
        raise InputError([_no_row(name) for name in missing])
    changed: dict[int, dict[str, object]] = {}
    for name, (bay, in_day) in held.items():
        row = rows[same(name)]
        word = WORDS.get((bay is not None, in_day is not None))
        if word is not None or row.values.get(HELD):
            changed[row.number] = {HELD: word, FIXED_BAY: bay, FIXED_IN: in_day}
    return SheetEdit(table.sheet, changed)


def _name(value: object) -> str:
    is_whole = isinstance(value, float) and value.is_integer()
    return str(int(value) if is_whole and isinstance(value, float) else value or "").strip()


def _no_row(name: str) -> Message:
    what = f"the workbook has no row of '{name}', which was moved."
    return Message(
        Level.ERROR, "Checks", what, "Undo its move, or put the check into the workbook."
    )
