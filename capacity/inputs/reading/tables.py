"""All raw tables become rows, and messages about sheets, headings and cells."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, TypeVar

from capacity.inputs.reading.hours_by_skill import (
    has_column_a_skill,
    read_by_skill,
    refuse_both_forms,
)
from capacity.inputs.reading.places import Places, same
from capacity.inputs.reading.raw import RawBook, RawTable
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.rows import SheetRows, Sheets
from capacity.inputs.reading.settings_sheet import read_settings
from capacity.inputs.reading.sheet_reader import SheetReader
from capacity.inputs.reading.sheets import SHEETS, HoursRow, SettingLine, SkillRow
from capacity.inputs.wording import nearest
from capacity.messages import Level, Message
from capacity.words import quoted

R = TypeVar("R", bound=Row)

_MODELS: tuple[type[Row], ...] = (SettingLine, *SHEETS)
_BY_TITLE = {same(model.sheet): model for model in _MODELS}

NEAR_TOP = 10  # rows in which headings are looked for


def is_known(title: str) -> bool:
    """Whether a sheet of this title is read."""
    return same(title) in _BY_TITLE


def read_tables(book: RawBook) -> tuple[Sheets, list[Message]]:
    """Return the rows of all sheets and everything that is wrong with single cells."""
    messages = [*book.messages, *_unknown_sheets(book)]
    chosen: dict[type[Row], RawTable] = {}
    for title, table in book.tables.items():
        model = _BY_TITLE[same(title)]
        if model in chosen:
            what = f"the sheet {model.sheet} is there twice."
            messages.append(
                Message(Level.ERROR, table.label, what, "Delete or rename one of the two.")
            )
        chosen.setdefault(model, table)
    lines = _read_sheet(SettingLine, chosen.get(SettingLine), book, messages)
    settings, places = read_settings(lines, messages)
    tables: dict[type[Row], SheetRows[Any]] = {}
    for model in SHEETS:
        there = chosen.get(model)
        if model is HoursRow and there is not None and there.whole and there.rows:
            skills = tables[SkillRow]  # which come before
            tables[model] = _read_hours(there, skills, book, messages)
        else:
            tables[model] = _read_sheet(model, there, book, messages)
    return Sheets(settings, places, tables), messages


def _unknown_sheets(book: RawBook) -> Iterator[Message]:
    for title in book.titles:
        if not is_known(title):
            near = nearest(title, [model.sheet for model in _MODELS])
            yield Message(
                Level.WARNING,
                title,
                "the sheet is not known and not read.",
                f"Did you mean '{near}'?" if near else "Leave it, or delete it.",
            )


def _read_sheet(
    model: type[R], table: RawTable | None, book: RawBook, messages: list[Message]
) -> SheetRows[R]:
    """Return the rows of a sheet; of one that cannot be read, nothing is known."""
    nothing: SheetRows[R] = SheetRows(Places(model.sheet if table is None else table.label))
    unknown = replace(nothing, names_known=False, whole=False)
    if table is not None and not table.whole:  # why, the reader has said
        return unknown
    if table is not None and table.rows:
        if below := _row_of_headings_below(model, table):
            where = f"{table.label}!A{table.rows[0][0]}"
            what, remedy = f"the headings stand in row {below}.", "Delete the rows above them."
            messages.append(Message(Level.ERROR, where, what, remedy))
            return unknown
        rows = SheetReader(model, table, messages).read()
        if len(table.rows) == 1 and not (model.optional or model.may_be_empty):
            what = "the sheet has headings but no rows."
            where = f"{table.label}!A{table.rows[0][0] + 1}"
            messages.append(Message(Level.ERROR, where, what, "Fill in its rows."))
            return unknown
        return rows
    if model.optional:
        return nothing
    columns = f"the columns {quoted(model.needed_headings())}"
    if table is None:
        present = f"; present are {quoted(book.titles)}" if book.titles else ""
        what, remedy = f"the sheet is missing{present}.", f"Add it with {columns}."
    else:
        what, remedy = "the sheet is empty.", f"Add {columns} and rows."
    messages.append(Message(Level.ERROR, nothing.places.label, what, remedy))
    return unknown


def _read_hours(
    table: RawTable, skills: SheetRows[SkillRow], book: RawBook, messages: list[Message]
) -> SheetRows[HoursRow]:
    """Return the man-hours of either form: a row a stage and skill, or a column a skill."""
    if has_column_a_skill(table) and not _row_of_headings_below(HoursRow, table):
        known = skills.named if skills.names_known else None
        return read_by_skill(table, known, messages)
    one_form = refuse_both_forms(table, skills.named, messages)
    rows = _read_sheet(HoursRow, one_form, book, messages)
    return rows if one_form is table else replace(rows, whole=False)


def _row_of_headings_below(model: type[Row], table: RawTable) -> int | None:
    """Return the row that holds the headings when the first one holds none of them."""
    known = {same(heading) for heading in model.headings()}
    first, *others = (
        (number, sum(same(str(cell)) in known for cell in cells))
        for number, cells in table.rows[:NEAR_TOP]
    )
    if first[1]:
        return None
    return next((number for number, found in others if found > 1), None)
