"""The rows that a person may change in place: from cells to an editable table and back."""

import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from enum import Enum

from capacity.inputs.reading.cell_kinds import Kind as Takes
from capacity.inputs.reading.cell_kinds import kind_of
from capacity.inputs.reading.edited_copy import SheetEdit, SheetTable
from capacity.inputs.reading.places import same
from capacity.inputs.reading.sheets import HoursRow, Settings
from capacity.template.notes import note_of
from capacity.words import counted
from ui.days import LEAST_DAY, MOST_DAY
from ui.planner.date_order import DateOrder, read_date
from ui.planner.offers import MODELS, is_list

EDITED_SHEETS = (
    "Checks",
    "Progress",
    "Extra work",
    "Ready dates",
    "Bay closures",
    "Base calendar",
    "Crews",
    "Absence",
    "Licences",
    "Equipment outages",
    "Packages",
    "Package hours",
    "Skills",
    "Bays",
    "Aircraft types",
    "Shift patterns",
    "Shifts",
    "Equipment",
    "Shops",
    "Shop loops",
    "Functions",
    "Function absence",
    "Delivered",
    "Base",
)
"""All sheets of a workbook; what changes most often first."""

BASE, SETTING, VALUE = "Base", "Setting", "Value"
OFFERED_SETTINGS = tuple(Settings.headings())
"""Settings with a row to fill where the sheet ``Base`` has none."""

SHOWN_FIRST = {"Packages": ("Package", "Stage", "Daily peak %", "Into float")}
"""Columns of a sheet that are shown in front of its others."""


NUMBER = re.compile(r"-?\d{1,9}([.]\d{1,9})?")
SETTINGS = {same(heading): field for heading, field in Settings.headings().items()}
STAGE = "Stage"


class Kind(Enum):
    """How a column is edited."""

    TEXT = "text"
    DATE = "date"
    NUMBER = "number"
    CHOICE = "choice"
    NAMES = "names"
    """Several of the choices, with commas between."""


@dataclass(frozen=True, slots=True)
class EditColumn:
    """A column of an editable table; ``choices`` are those of a choice.

    ``takes`` is what its cells should hold, also where it is edited as text for what stands there.
    ``help`` says what it means; those of the key tell rows apart. Dates that are edited
    as text are read in an ``order``.
    """

    heading: str
    kind: Kind
    choices: tuple[str, ...] = ()
    takes: Takes = Takes.TEXT
    help: str = ""
    is_key: bool = False
    order: DateOrder = DateOrder.DAY


@dataclass(frozen=True, slots=True)
class EditTable:
    """An editable table: its columns, and for each row its values and its row in the sheet.

    The rows ``offered`` are not in the sheet: they are added to it once they are filled in, below
    its ``last_row``.
    """

    sheet: str
    columns: tuple[EditColumn, ...]
    rows: tuple[Mapping[str, object], ...]
    numbers: tuple[int, ...]
    offered: frozenset[int] = frozenset()
    last_row: int = 1


def edit_table(
    table: SheetTable,
    choices: Mapping[str, tuple[str, ...]],
    order: DateOrder = DateOrder.DAY,
) -> EditTable:
    """Return a sheet as an editable table; ``choices`` are by heading.

    A column whose cells do not all hold what they should is edited as text, or has what stands
    there among its choices, so that whatever it is can be seen and corrected.
    """
    columns = tuple(_column(table, heading, choices, order) for heading in table.headings)
    rows = tuple(
        {column.heading: as_shown(row.values.get(column.heading), column) for column in columns}
        for row in table.rows
    )
    return EditTable(table.sheet, columns, rows, tuple(row.number for row in table.rows))


def with_row_first(table: EditTable, number: int | None) -> EditTable:
    """Return the table with the row of a number above the others; as it is without such a row."""
    if number not in table.numbers:
        return table
    place = table.numbers.index(number)
    order = [place, *(other for other in range(len(table.rows)) if other != place)]
    return replace(
        table,
        rows=tuple(table.rows[place] for place in order),
        numbers=tuple(table.numbers[place] for place in order),
    )


def with_choices_of(table: EditTable, edit: SheetEdit | None) -> EditTable:
    """Return the table with what an edit puts into a column among what may be chosen there."""
    if edit is None:
        return table

    def extended(column: EditColumn) -> EditColumn:
        if column.kind is not Kind.CHOICE:
            return column
        rows = (*edit.changed.values(), *edit.added)
        told = [_text(as_shown(row.get(column.heading), column)) for row in rows]
        further = (text for text in told if text and text not in column.choices)
        return replace(column, choices=(*column.choices, *dict.fromkeys(further)))

    return replace(table, columns=tuple(extended(column) for column in table.columns))


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


def rows_to_be(table: EditTable, edit: SheetEdit) -> dict[int, int]:
    """Return the rows of the sheet in which those that an edit adds will be.

    They are by their numbers in the table: below 0 those that were typed as new, as
    ``with_pending`` counts them, else those that were offered.
    """
    filled = sorted(number for number in edit.changed if number in table.offered)
    added = [*filled, *(-1 - place for place in range(len(edit.added)))]
    return {number: row for row, number in enumerate(added, start=table.last_row + 1)}


def edit_from(table: EditTable, changes: Mapping[str, object]) -> SheetEdit:
    """Return what a person changed, as the editor tells it: by position, and dates as text."""
    columns = {column.heading: column for column in table.columns}

    def read(values: object, row: Mapping[str, object]) -> dict[str, object]:
        assert isinstance(values, Mapping)
        setting = _text({**row, **values}.get(SETTING)) if table.sheet == BASE else ""
        return {h: _typed(v, columns[h], setting) for h, v in values.items() if h in columns}

    edited, added, deleted = (
        changes.get("edited_rows") or {},
        changes.get("added_rows") or [],
        changes.get("deleted_rows") or [],
    )
    assert isinstance(edited, Mapping)
    assert isinstance(added, list)
    assert isinstance(deleted, list)
    new_rows = [{h: v for h, v in read(row, {}).items() if v is not None} for row in added]
    removed = frozenset(table.numbers[int(place)] for place in deleted)
    changed = {
        table.numbers[int(place)]: read(values, table.rows[int(place)])
        for place, values in edited.items()
    }
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


def _column(
    table: SheetTable, heading: str, choices: Mapping[str, tuple[str, ...]], order: DateOrder
) -> EditColumn:
    held = [row.values[heading] for row in table.rows if heading in row.values]
    takes = _takes(table.sheet, heading)
    allowed = choices.get(heading, ())
    kind = _kind(takes, held, is_list(table.sheet, heading), bool(allowed))
    if kind in (Kind.CHOICE, Kind.NAMES):
        several = kind is Kind.NAMES
        names = [name for v in held for name in (listed(_text(v)) if several else [_text(v)])]
        known = {same(choice) for choice in allowed}
        allowed = (*allowed, *dict.fromkeys(n for n in names if n and same(n) not in known))
    else:
        allowed = ()
    note = note_of(table.sheet, heading) or ""
    return EditColumn(heading, kind, allowed, takes, note, heading in key_of(table.sheet), order)


def _kind(takes: Takes, held: Sequence[object], is_list: bool, is_chosen: bool) -> Kind:
    if takes is Takes.DATE:
        return Kind.DATE if all(_is_day(value) for value in held) else Kind.TEXT
    if takes is Takes.NUMBER:
        return Kind.NUMBER if all(_is_number(value) for value in held) else Kind.TEXT
    if is_list:
        return Kind.NAMES
    return Kind.CHOICE if is_chosen else Kind.TEXT


def _is_day(value: object) -> bool:
    """Return whether a value is a day that a grid can show as one."""
    if isinstance(value, datetime):
        value = value.date()
    return isinstance(value, date) and LEAST_DAY <= value <= MOST_DAY


def key_of(sheet: str) -> tuple[str, ...]:
    """Return the headings by which a person knows a row: its name, and the stage where it has one.

    A sheet whose rows have no name is known by its first column.
    """
    model = MODELS[sheet]
    if model.identity:
        return tuple(model.heading(field) for field in model.identity)
    first, second = list(model.headings())[:2]
    return (first, second) if second == STAGE else (first,)


def listed(text: str) -> list[str]:
    """Return the names in a cell, which have commas between."""
    return [name for part in text.split(",") if (name := part.strip())]


def _takes(sheet: str, heading: str) -> Takes:
    """Return what a column takes, as its sheet is read."""
    model = MODELS[sheet]
    field = model.headings().get(heading)
    if field is None:  # of the man-hours, a column a skill
        return Takes.NUMBER if model is HoursRow else Takes.TEXT
    return kind_of(model, field).kind


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def as_shown(value: object, column: EditColumn) -> object:
    """Return a value as the grid shows it in a column."""
    match column.kind:
        case Kind.DATE:
            return value.date() if isinstance(value, datetime) else value
        case Kind.NUMBER:
            return value
        case Kind.CHOICE:
            text = _text(value, column.order)
            return next((c for c in column.choices if same(c) == same(text)), text) or None
        case Kind.NAMES:
            return ", ".join(listed(_text(value))) or None
        case Kind.TEXT:
            return _text(value, column.order) or None


def _text(value: object, order: DateOrder = DateOrder.YEAR) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case float() if value.is_integer():
            return str(int(value))
        case datetime() if value.time() != time():
            return f"{order.shown(value.date())} {value:%H:%M}"
        case date():
            return order.shown(value)
        case time():
            return f"{value:%H:%M}"
        case _:
            return str(value).strip()


def _typed(value: object, column: EditColumn, setting: str = "") -> object:
    """Return a value as the sheet should hold it: a date as a date, a number as a number."""
    if isinstance(value, list | tuple):
        return ", ".join(listed(",".join(map(str, value)))) or None
    if value is None or not isinstance(value, str):
        return value
    text = value.strip()
    takes = column.takes
    if column.heading == VALUE:
        takes = _taken_by(setting, text)
    if takes is Takes.DATE:
        return read_date(text, column.order) or text or None
    if takes is Takes.NUMBER:
        with suppress(ValueError):
            return float(text)
    return text or None


def _taken_by(setting: str, text: str) -> Takes:
    """Return what a setting takes; of one that is not known, what is typed looks like."""
    field = SETTINGS.get(same(setting))
    if field is not None:
        return kind_of(Settings, field).kind
    return Takes.NUMBER if NUMBER.fullmatch(text) else Takes.TEXT
