"""The sheet ``Package hours`` with a column a skill, as rows of a stage and skill each."""

from collections.abc import Collection, Mapping
from dataclasses import replace
from typing import Any, ClassVar

from openpyxl.utils import get_column_letter
from pydantic import Field, create_model

from capacity.inputs.reading.cells import ManHours, Name, shown
from capacity.inputs.reading.places import same
from capacity.inputs.reading.raw import RawTable, UnreadableCell
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.rows import SheetRows
from capacity.inputs.reading.sheet_reader import SheetReader
from capacity.inputs.reading.sheets import HoursRow
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message, error

STAGE = ("Package", "Stage")
BY_ROW = ("Skill", "Man-hours")
_NOT_A_SKILL = {same(heading) for heading in (*STAGE, *BY_ROW)} | {"row"}


class HoursOfStage(Row):
    """A stage, before the columns of the skills."""

    sheet: ClassVar[str] = HoursRow.sheet
    identity: ClassVar[tuple[str, ...]] = ("package", "stage")

    package: Name = Field(alias="Package")
    stage: Name = Field(alias="Stage")


def has_column_a_skill(table: RawTable) -> bool:
    """Whether the first row has no heading of the other form, and more than the stage."""
    headings = {same(str(cell)) for cell in _headings(table).values()}
    known = {same(heading) for heading in BY_ROW}
    return headings.isdisjoint(known) and len(headings - {same(part) for part in STAGE}) > 0


def refuse_both_forms(
    table: RawTable, skills: Collection[str], messages: list[Message]
) -> RawTable:
    """Return the table; a message tells of each skill with a column beside those of a row a skill.

    Such columns are taken away, so that nothing else is said of them.
    """
    known = {same(skill) for skill in skills} - _NOT_A_SKILL
    both = {place: cell for place, cell in _headings(table).items() if same(str(cell)) in known}
    for place, cell in both.items():
        what = f"'{shown(cell)}' is a column of a skill beside the columns Skill and Man-hours."
        remedy = "Keep one form: rows with Skill and Man-hours, or a column for each skill."
        messages.append(error(_place(table, place), what, remedy))
    if not both:
        return table
    rows = tuple(
        (number, tuple(None if place in both else cell for place, cell in enumerate(cells)))
        for number, cells in table.rows
    )
    return replace(table, rows=rows)


def read_by_skill(
    table: RawTable, skills: Collection[str] | None, messages: list[Message]
) -> SheetRows[HoursRow]:
    """Return the man-hours of a sheet with a column a skill; a blank cell asks for nothing.

    ``skills`` are the names on the sheet Skills, None when they are not known: then every
    column is one. A column of another name is an error where it holds numbers, which would
    be lost, else a warning.
    """
    columns, others = _skills_of(table, skills)
    read = SheetReader(_model(columns, others), table, messages).read()
    rows: list[HoursRow] = []
    for stage in read.rows:
        for place, (field, skill) in _fields(columns).items():
            hours = getattr(stage, field)
            if hours is not None:
                letter = get_column_letter(place + 1)
                rows.append(_row(stage, skill, hours, letter, table.rows[0][0]))
    with_hours = {row.package for row in rows} | read.faulty
    lost = _tell_other_columns(table, others, skills or (), messages)
    named = {name: row for name, row in read.named.items() if name in with_hours}
    return SheetRows(
        places=read.places,
        rows=tuple(rows),
        identities=read.identities,
        named=named,
        faulty=read.faulty,
        names_known=read.names_known,
        whole=read.whole and not lost,
    )


def _headings(table: RawTable) -> dict[int, object]:
    """Return the headings by place, 0 the first."""
    return {
        place: cell
        for place, cell in enumerate(table.rows[0][1])
        if cell is not None and not isinstance(cell, UnreadableCell)
    }


def _skills_of(
    table: RawTable, skills: Collection[str] | None
) -> tuple[dict[int, str], dict[int, str]]:
    """Return the skills by the place of their columns, and the headings that are none."""
    by_same = None if skills is None else {same(skill): skill for skill in skills}
    found: dict[int, str] = {}
    others: dict[int, str] = {}
    for place, cell in _headings(table).items():
        written = shown(cell).strip()
        if same(written) in {same(part) for part in STAGE}:
            continue
        if same(written) in _NOT_A_SKILL:
            others[place] = written
        elif by_same is None:
            found[place] = written
        elif same(written) in by_same:
            found[place] = by_same[same(written)]
        else:
            others[place] = written
    return found, others


def _row(stage: HoursOfStage, skill: str, hours: float, letter: str, headings: int) -> HoursRow:
    """Return the man-hours of one cell, which is below the heading that names the skill."""
    cells = {"Package": stage.package, "Stage": stage.stage, "Skill": skill, "Man-hours": hours}
    return HoursRow.model_validate(
        {**cells, "row": stage.row, "column": letter, "heading_row": headings}
    )


def _fields(columns: Mapping[int, str]) -> dict[int, tuple[str, str]]:
    """Return field and skill of each column by its place; of two of a skill the first."""
    found: dict[int, tuple[str, str]] = {}
    said: set[str] = set()
    for place, skill in columns.items():
        if skill not in said:
            said.add(skill)
            found[place] = (f"hours_{place}", skill)
    return found


def _model(columns: Mapping[int, str], others: Mapping[int, str]) -> type[HoursOfStage]:
    """Return a row model with the fields of a stage and one for every column."""
    fields: dict[str, Any] = {
        field: (ManHours | None, Field(None, alias=skill))
        for field, skill in _fields(columns).values()
    }
    for place, heading in others.items():
        if same(heading) != "row":  # the name of a field that every row has
            fields[f"other_{place}"] = (Any, Field(None, alias=heading))
    return create_model("HoursOfStage", __base__=HoursOfStage, **fields)


def _tell_other_columns(
    table: RawTable, others: Mapping[int, str], skills: Collection[str], messages: list[Message]
) -> bool:
    """Tell of columns that are no skill's; return whether one of them holds man-hours."""
    lost = False
    for place, written in others.items():
        if same(written) == "row":  # the reader has warned of it
            continue
        holds = any(
            isinstance(cells[place], int | float) or _reads_as_number(cells[place])
            for _, cells in table.rows[1:]
            if place < len(cells)
        )
        where, what = _place(table, place), f"'{written}' is not in the sheet Skills"
        if holds:
            remedy = f"{suggest(written, skills, 'the sheet Skills')} If it is none, delete it."
            what = f"{what}, and the column below it holds man-hours."
            messages.append(error(where, what, remedy))
        else:
            remedy = suggest(written, skills, "the sheet Skills")
            messages.append(
                Message(Level.WARNING, where, f"{what}, and its column is not read.", remedy)
            )
        lost = lost or holds
    return lost


def _reads_as_number(cell: object) -> bool:
    return isinstance(cell, str) and cell.strip()[:1].isdigit()


def _place(table: RawTable, place: int) -> str:
    return f"{table.label}!{get_column_letter(place + 1)}{table.rows[0][0]}"
