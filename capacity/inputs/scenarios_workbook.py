"""Read scenarios: what is to be different in a workbook, as edits of it.

A row of the sheet ``Scenarios`` names a cell of the base's workbook and what stands there instead;
the rows of one scenario go together. What comes out is read by the workbook's own reader, so every
rule of a workbook holds for every scenario.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Annotated, Any, ClassVar

from pydantic import BeforeValidator, Field
from pydantic_core import PydanticCustomError

from capacity.errors import InputError
from capacity.inputs.reading.by_kind import tables_or_message
from capacity.inputs.reading.cells import Name, number, one_of
from capacity.inputs.reading.edited_copy import SheetEdit, SheetTable, TableRow, sheet_tables
from capacity.inputs.reading.local_marks import LocalText
from capacity.inputs.reading.places import Places, same
from capacity.inputs.reading.raw import UnreadableCell, UntypedText
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheet_reader import SheetReader
from capacity.inputs.reading.sheets import SHEETS, SettingLine
from capacity.inputs.wording import nearest, suggest
from capacity.messages import Level, Message, error
from capacity.words import quoted

TITLE = "Scenarios"
EVERY_ROW, NEW_ROW = "every row", "new row"
SET, ADD, MULTIPLY = "set", "add", "multiply"
MOST_SCENARIOS = 5_000

ChangeWord = Annotated[str, BeforeValidator(one_of(SET, ADD, MULTIPLY))]
_SHEETS: tuple[type[Row], ...] = (SettingLine, *SHEETS)
_MODELS: Mapping[str, type[Row]] = {same(model.sheet): model for model in _SHEETS}


class ScenarioRow(Row):
    """One cell that is different in a scenario."""

    sheet: ClassVar[str] = TITLE

    scenario: Name = Field(alias="Scenario")
    of_sheet: Name = Field(alias="Sheet")
    of_row: Name = Field(alias="Row")
    column: Name = Field(alias="Column")
    change: ChangeWord = Field(SET, alias="Change")
    value: Any = Field(None, alias="Value")


@dataclass(frozen=True, slots=True)
class Scenario:
    """What is different, as ``edits`` of the workbook and in words, a line a row."""

    name: str
    edits: tuple[SheetEdit, ...]
    words: tuple[str, ...]


def scenarios_and_messages(
    path: Path, workbook: Path
) -> tuple[tuple[Scenario, ...], list[Message]]:
    """Return the scenarios of a file, and everything that is wrong with them.

    Raises
    ------
    InputError
        When the base's workbook cannot be read.
    """
    raw = tables_or_message(path, lambda title: same(title) == same(TITLE))
    if isinstance(raw, Message):
        return (), [raw]
    table = next(iter(raw.tables.values()), None)
    if table is None:
        what = f"there is no sheet {TITLE}; present are {quoted(raw.titles)}."
        headings = quoted(list(ScenarioRow.headings()))
        return (), [error(path.name, what, f"Add it, with the columns {headings}.")]
    messages = list(raw.messages)
    if not table.whole:
        return (), messages
    found = SheetReader(ScenarioRow, table, messages).read()
    names = {
        _MODELS[same(row.of_sheet)].sheet for row in found.rows if same(row.of_sheet) in _MODELS
    }
    tables = {same(one.sheet): one for one in sheet_tables(workbook, sorted(names))}
    rows: dict[str, list[ScenarioRow]] = defaultdict(list)
    for row in found.rows:
        rows[row.scenario].append(row)
    if not rows and not messages:
        messages.append(error(table.label, "the sheet has no rows.", "Fill in a scenario."))
    if len(rows) > MOST_SCENARIOS:
        what = f"{len(rows):,} scenarios are more than {MOST_SCENARIOS:,}."
        messages.append(error(table.label, what, "Ask them in several files."))
        return (), messages
    scenarios = []
    for name, own in rows.items():
        edits = _Edits(tables, found.places)
        for row in own:
            messages += edits.take(row)
        scenarios.append(Scenario(name, tuple(edits.made()), tuple(map(_in_words, own))))
    return tuple(scenarios), messages


class _Edits:
    """The edits of one scenario, gathered row by row."""

    def __init__(self, tables: Mapping[str, SheetTable], places: Places) -> None:
        self._tables, self._places = tables, places
        self._changed: dict[str, dict[int, dict[str, object]]] = defaultdict(dict)
        self._added: dict[str, dict[str, dict[str, object]]] = defaultdict(dict)

    def take(self, row: ScenarioRow) -> Iterator[Message]:
        """Take a row, or say what is wrong with it."""
        model = _MODELS.get(same(row.of_sheet))
        if model is None:
            known = [one.sheet for one in _MODELS.values()]
            what = f"there is no sheet '{row.of_sheet}' in a workbook."
            near = nearest(row.of_sheet, known)
            remedy = f"Did you mean '{near}'?" if near else "Name a sheet of the workbook."
            yield self._fault(row, "Sheet", what, remedy)
            return
        table = self._tables[same(model.sheet)]
        heading = next((h for h in table.headings if same(h) == same(row.column)), None)
        if heading is None:
            what = f"the sheet {model.sheet} has no column '{row.column}'."
            remedy = suggest(row.column, table.headings, f"the sheet {model.sheet}")
            yield self._fault(row, "Column", what, remedy)
            return
        value = _plain(row.value)
        if isinstance(value, UnreadableCell):
            yield self._fault(row, "Value", "it cannot be read.", "Type it anew.")
            return
        if same(row.of_row).startswith(NEW_ROW):
            if row.change != SET:
                what = f"in a new row there is nothing to {row.change}."
                yield self._fault(row, "Change", what, f"Leave it blank, or write {SET}.")
                return
            self._added[model.sheet].setdefault(same(row.of_row), {})[heading] = value
            return
        yield from self._change(row, model, table, heading, value)

    def made(self) -> Iterator[SheetEdit]:
        """Return the edits, a sheet each."""
        for sheet in dict.fromkeys((*self._changed, *self._added)):
            added = tuple(self._added.get(sheet, {}).values())
            yield SheetEdit(sheet, dict(self._changed.get(sheet, {})), added)

    def _change(
        self, row: ScenarioRow, model: type[Row], table: SheetTable, heading: str, value: object
    ) -> Iterator[Message]:
        keys = [model.heading(field) for field in model.identity] or [table.headings[0]]
        meant = [one for one in table.rows if _is_meant(row.of_row, one, keys)]
        if not meant and model is SettingLine and row.change == SET:
            # A setting that has its default so far; the reader says whether there is one.
            line = self._added[model.sheet].setdefault(same(row.of_row), {keys[0]: row.of_row})
            line[heading] = value
            return
        if not meant:
            what = f"the sheet {model.sheet} has no row '{row.of_row}'."
            known = list(dict.fromkeys(_name(one, keys) for one in table.rows))
            yield self._fault(
                row, "Row", what, suggest(row.of_row, known, f"the sheet {model.sheet}")
            )
        for one in meant:
            changes = self._changed[model.sheet].setdefault(one.number, {})
            before = changes.get(heading, one.values.get(heading))
            after = value
            if row.change != SET:
                first, second = _amount(before), _amount(value)
                if first is None or second is None:
                    what = (
                        f"{heading} of '{_name(one, keys)}' is {_shown(before)}; only numbers are "
                        f"added and multiplied."
                    )
                    yield self._fault(row, "Value", what, f"Write {SET}, and the value itself.")
                    return
                after = first + second if row.change == ADD else first * second
            changes[heading] = after

    def _fault(self, row: ScenarioRow, heading: str, what: str, remedy: str) -> Message:
        return error(self._places.cell(row.row, heading), what, remedy)


def _is_meant(named: str, row: TableRow, keys: Sequence[str]) -> bool:
    """Return whether a row is named: by its first name, or by all of them with slashes."""
    first, *_ = (str(row.values.get(key, "")) for key in keys)
    return same(named) in (EVERY_ROW, same(first), same(_name(row, keys)))


def _name(row: TableRow, keys: Sequence[str]) -> str:
    return " / ".join(str(row.values.get(key, "")) for key in keys)


def _amount(value: object) -> float | None:
    """Return the number that a cell holds; None where it holds none."""
    if value is None:
        return None
    try:
        found = number(value)
    except PydanticCustomError:
        return None
    return int(found) if found.is_integer() else found


def _plain(value: object) -> object:
    """Return a value as a person would type it; ``007`` is a name and no number."""
    if isinstance(value, LocalText) and value.day is not None:
        return value.day
    if isinstance(value, UntypedText):
        amount = _amount(value)
        is_name = amount is None or (value.startswith("0") and amount >= 1)
        return str(value) if is_name else amount
    if isinstance(value, datetime):
        return value.date()
    return value


def _shown(value: object) -> str:
    return "blank" if value is None else f"'{value}'"


def _in_words(row: ScenarioRow) -> str:
    value = _plain(row.value)
    said = value.isoformat() if isinstance(value, date) else str(value)
    place = f"{row.of_sheet}, {row.of_row}, {row.column}"
    match row.change:
        case "add":
            return f"{place}: {said} more"
        case "multiply":
            return f"{place}: times {said}"
        case _:
            return f"{place}: {'blank' if value is None else said}"


def read_scenarios(path: Path, workbook: Path) -> tuple[Scenario, ...]:
    """Return the scenarios of a file; raises ``InputError`` with everything that is wrong."""
    scenarios, messages = scenarios_and_messages(path, workbook)
    if any(message.level is Level.ERROR for message in messages):
        raise InputError(messages)
    return scenarios
