"""The rows that a person may change in place: from cells to an editable table and back."""

import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, datetime
from enum import Enum

from capacity.inputs.reading.cell_kinds import Kind as Takes
from capacity.inputs.reading.cell_kinds import kind_of
from capacity.inputs.reading.edited_copy import SheetEdit, SheetTable
from capacity.inputs.reading.places import same
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import SHEETS, SettingLine
from capacity.words import counted

EDITED_SHEETS = (
    "Checks",
    "Progress",
    "Extra work",
    "Ready dates",
    "Bay closures",
    "Base calendar",
    "Crews",
    "Licences",
    "Packages",
    "Base",
)

_READ: tuple[type[Row], ...] = (SettingLine, *SHEETS)
_MODELS: Mapping[str, type[Row]] = {model.sheet: model for model in _READ}
CHOICES_FROM = {
    "Type": ("Aircraft types", "Type"),
    "Package": ("Packages", "Package"),
    "Fixed bay": ("Bays", "Bay"),
    "Bay": ("Bays", "Bay"),
    "Pattern": ("Shift patterns", "Pattern"),
}
SHEETS_OF_CHOICES = ("Aircraft types", "Bays", "Shift patterns")
"""Sheets that are read for the names in them; those of ``EDITED_SHEETS`` are read in any case."""

SETTING, VALUE = "Setting", "Value"
OFFERED_SETTINGS = ("Daily peak %", "Into float", "Man-hours counted by", "Moves on days off")
"""Settings with a row to fill where the sheet ``Base`` has none."""

SHOWN_FIRST = {"Packages": ("Package", "Stage", "Daily peak %", "Into float")}
"""Columns of a sheet that are shown in front of its others."""


NUMBER = re.compile(r"-?\d{1,9}([.]\d{1,9})?")
ISO_DATE = re.compile(r"\d{4}-\d\d-\d\d")


class Kind(Enum):
    """How a column is edited."""

    TEXT = "text"
    DATE = "date"
    NUMBER = "number"
    CHOICE = "choice"


@dataclass(frozen=True, slots=True)
class EditColumn:
    """A column of an editable table; ``choices`` are those of a choice.

    ``takes`` is what its cells should hold, also where it is edited as text for what stands there.
    """

    heading: str
    kind: Kind
    choices: tuple[str, ...] = ()
    takes: Takes = Takes.TEXT


@dataclass(frozen=True, slots=True)
class EditTable:
    """An editable table: its columns, and for each row its values and its row in the sheet.

    The rows ``offered`` are not in the sheet: they are added to it once they are filled in.
    """

    sheet: str
    columns: tuple[EditColumn, ...]
    rows: tuple[Mapping[str, object], ...]
    numbers: tuple[int, ...]
    offered: frozenset[int] = frozenset()


def choices_of(tables: Sequence[SheetTable]) -> dict[str, tuple[str, ...]]:
    """Return what may be chosen under a heading, from the sheets that name it."""
    by_sheet = {table.sheet: table for table in tables}
    found = _words_to_choose()
    for heading, (sheet, column) in CHOICES_FROM.items():
        names = [_text(row.values.get(column)) for row in by_sheet[sheet].rows]
        found[heading] = tuple(dict.fromkeys(name for name in names if name))
    return found


def edit_table(table: SheetTable, choices: Mapping[str, tuple[str, ...]]) -> EditTable:
    """Return a sheet as an editable table.

    A column whose cells do not all hold what they should is edited as text, so that whatever
    stands there can be seen and corrected.
    """
    columns = tuple(_column(table, heading, choices) for heading in table.headings)
    rows = tuple(
        {column.heading: as_shown(row.values.get(column.heading), column) for column in columns}
        for row in table.rows
    )
    return EditTable(table.sheet, columns, rows, tuple(row.number for row in table.rows))


def with_offers(table: EditTable) -> EditTable:
    """Return the table of ``Base`` with a row to fill for each setting offered that it lacks."""
    held = {same(_text(row.get(SETTING))) for row in table.rows}
    lacking = [name for name in OFFERED_SETTINGS if same(name) not in held]
    below = max(table.numbers, default=1) + 1
    numbers = tuple(range(below, below + len(lacking)))
    return replace(
        table,
        rows=(*table.rows, *({SETTING: name, VALUE: None} for name in lacking)),
        numbers=(*table.numbers, *numbers),
        offered=frozenset(numbers),
    )


def as_added(edit: SheetEdit, table: EditTable) -> SheetEdit:
    """Return the edit with the rows offered that were filled in among those added."""
    rows = dict(zip(table.numbers, table.rows, strict=True))
    filled = [
        {**rows[number], **values}
        for number, values in sorted(edit.changed.items())
        if number in table.offered
    ]
    return replace(
        edit,
        changed={n: values for n, values in edit.changed.items() if n not in table.offered},
        added=(*filled, *edit.added),
        removed=edit.removed - table.offered,
    )


def edit_from(table: EditTable, changes: Mapping[str, object]) -> SheetEdit:
    """Return what a person changed, as the editor tells it: by position, and dates as text."""
    columns = {column.heading: column for column in table.columns}

    def read(values: object) -> dict[str, object]:
        assert isinstance(values, Mapping)
        return {h: _typed(v, columns[h]) for h, v in values.items() if h in columns}

    edited, added, deleted = (
        changes.get("edited_rows") or {},
        changes.get("added_rows") or [],
        changes.get("deleted_rows") or [],
    )
    assert isinstance(edited, Mapping)
    assert isinstance(added, list)
    assert isinstance(deleted, list)
    new_rows = [{h: v for h, v in read(row).items() if v is not None} for row in added]
    removed = frozenset(table.numbers[int(place)] for place in deleted)
    changed = {table.numbers[int(place)]: read(values) for place, values in edited.items()}
    return SheetEdit(
        sheet=table.sheet,
        changed={row: v for row, v in changed.items() if v and row not in removed},
        added=tuple(row for row in new_rows if row),
        removed=removed,
    )


def edits_in_words(edits: Sequence[SheetEdit]) -> str:
    """Return how many rows are changed, added and removed; blank when none is."""
    amounts = (
        ("changed", sum(len(edit.changed) for edit in edits)),
        ("added", sum(len(edit.added) for edit in edits)),
        ("removed", sum(len(edit.removed) for edit in edits)),
    )
    return ", ".join(f"{counted(amount, 'row')} {what}" for what, amount in amounts if amount)


def _column(table: SheetTable, heading: str, choices: Mapping[str, tuple[str, ...]]) -> EditColumn:
    held = [row.values[heading] for row in table.rows if heading in row.values]
    takes = _takes(table.sheet, heading)
    if takes is Takes.DATE and all(isinstance(value, date) for value in held):
        return EditColumn(heading, Kind.DATE, takes=takes)
    if takes is Takes.NUMBER and all(_is_number(value) for value in held):
        return EditColumn(heading, Kind.NUMBER, takes=takes)
    is_named_here = CHOICES_FROM.get(heading, ("", ""))[0] == table.sheet
    allowed = () if is_named_here else choices.get(heading, ())
    if allowed and all(_text(value) in allowed for value in held):
        return EditColumn(heading, Kind.CHOICE, allowed, takes)
    return EditColumn(heading, Kind.TEXT, takes=takes)


def _takes(sheet: str, heading: str) -> Takes:
    """Return what a column takes, as its sheet is read."""
    model = _MODELS.get(sheet)
    field = None if model is None else model.headings().get(heading)
    return Takes.TEXT if model is None or field is None else kind_of(model, field).kind


def _words_to_choose() -> dict[str, tuple[str, ...]]:
    """Return the headings of the sheets edited under which one of a few words stands."""
    kinds = (
        (heading, kind_of(_MODELS[sheet], field))
        for sheet in EDITED_SHEETS
        for heading, field in _MODELS[sheet].headings().items()
    )
    return {heading: kind.choices for heading, kind in kinds if kind.choices}


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def as_shown(value: object, column: EditColumn) -> object:
    """Return a value as the grid shows it in a column."""
    match column.kind:
        case Kind.DATE:
            return value.date() if isinstance(value, datetime) else value
        case Kind.NUMBER:
            return value
        case _:
            return _text(value) or None


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, datetime):
        return value.date().isoformat()
    return str(value).strip()


def _typed(value: object, column: EditColumn) -> object:
    """Return a value as the sheet should hold it: a date as a date, a number as a number."""
    if value is None or not isinstance(value, str):
        return value
    text = value.strip()
    if column.takes is Takes.DATE:
        with suppress(ValueError):
            return date.fromisoformat(text[:10])
    if column.heading == VALUE and ISO_DATE.fullmatch(text):
        with suppress(ValueError):
            return date.fromisoformat(text)
    if column.takes is Takes.NUMBER or (column.heading == VALUE and NUMBER.fullmatch(text)):
        with suppress(ValueError):
            return float(text)
    return text or None
