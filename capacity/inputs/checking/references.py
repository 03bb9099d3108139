"""Cross checks of ids, of names that point to other sheets, and of ranges of days."""

from collections.abc import Iterator
from dataclasses import dataclass

from capacity.inputs.checking.repeated import repeated
from capacity.inputs.reading.facts_from_rows import NOTHING
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.rows import Identity, Sheets
from capacity.inputs.reading.sheets import (
    SHEETS,
    AbsenceRow,
    BayRow,
    CalendarRow,
    CheckRow,
    ClosureRow,
    CrewRow,
    EquipmentRow,
    ExtraRow,
    FunctionAbsenceRow,
    FunctionRow,
    HoursRow,
    LicenceRow,
    LoopRow,
    OutageRow,
    PatternRow,
    ProgressRow,
    ReadyRow,
    ShiftRow,
    ShopRow,
    SkillRow,
    StageRow,
    TypeRow,
)
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message
from capacity.words import day


@dataclass(frozen=True, slots=True)
class Reference:
    """A field whose text, or every name of whose list, is the name of a row elsewhere."""

    model: type[Row]
    field: str
    target: type[Row]


REFERENCES = (
    Reference(BayRow, "reached_through", BayRow),
    Reference(BayRow, "shares_floor_with", BayRow),
    Reference(ClosureRow, "bay", BayRow),
    Reference(StageRow, "equipment", EquipmentRow),
    Reference(StageRow, "types", TypeRow),
    Reference(HoursRow, "package", StageRow),
    Reference(HoursRow, "skill", SkillRow),
    Reference(CheckRow, "type", TypeRow),
    Reference(CheckRow, "package", StageRow),
    Reference(ProgressRow, "check", CheckRow),
    Reference(ExtraRow, "check", CheckRow),
    Reference(ExtraRow, "skill", SkillRow),
    Reference(ReadyRow, "check", CheckRow),
    Reference(CrewRow, "skills", SkillRow),
    Reference(CrewRow, "types", TypeRow),
    Reference(CrewRow, "pattern", PatternRow),
    Reference(PatternRow, "cycle", ShiftRow),
    Reference(AbsenceRow, "crew", CrewRow),
    Reference(LicenceRow, "crew", CrewRow),
    Reference(OutageRow, "equipment", EquipmentRow),
    Reference(LoopRow, "package", StageRow),
    Reference(LoopRow, "shop", ShopRow),
    Reference(FunctionRow, "skill", SkillRow),
)


def ids_stand_once(sheets: Sheets) -> Iterator[Message]:
    """Require that no two rows are called the same, nor give one stage's hours in one skill."""
    for model in SHEETS:
        for (row, identity), (before, _) in repeated(
            sheets[model].identities, lambda named: named[1]
        ):
            yield Message(
                Level.ERROR,
                sheets[model].places.cell(row, model.heading(model.identity[len(identity) - 1])),
                f"'{' / '.join(identity)}' is here and in row {before}.",
                "Rename or delete one of the two.",
            )


def ids_differ_by_more_than_case(sheets: Sheets) -> Iterator[Message]:
    """Require that names differ by more than upper and lower case."""
    for model in SHEETS:
        if model is HoursRow:  # its names belong to other sheets
            continue
        for depth in range(1, len(model.identity) + 1):
            first: dict[Identity, Identity] = {}
            said: set[Identity] = set()
            for row, identity in sheets[model].identities:
                name = identity[:depth]
                before = first.setdefault(tuple(part.casefold() for part in name), name)
                if before[-1] == name[-1] or before[:-1] != name[:-1] or name in said:
                    continue
                said.add(name)
                yield Message(
                    Level.ERROR,
                    sheets[model].places.cell(row, model.heading(model.identity[depth - 1])),
                    f"'{name[-1]}' differs from '{before[-1]}' by upper and lower case alone.",
                    "Write both the same way, or give one another name.",
                )


def names_are_known(sheets: Sheets) -> Iterator[Message]:
    """Require that every name that points to another sheet is there, if in a faulty row."""
    for reference in REFERENCES:
        for row in sheets[reference.model].rows:
            value = getattr(row, reference.field) or ()
            for name in dict.fromkeys((value,) if isinstance(value, str) else value):
                if name == NOTHING and reference.target is ShiftRow:  # a day off
                    continue
                if is_unknown(sheets, name, reference.target):
                    yield unknown(sheets, row, reference.field, name, reference.target)


def is_unknown(sheets: Sheets, name: str, target: type[Row]) -> bool:
    """Whether a sheet, all of whose names could be read, has no row of this name."""
    rows = sheets[target]
    return rows.names_known and name not in rows.named


def unknown(sheets: Sheets, row: Row, field: str, name: str, target: type[Row]) -> Message:
    """Return the message for a name that is not there."""
    return Message(
        Level.ERROR,
        sheets.at(row, field),
        f"'{name}' is not in the sheet {target.sheet}.",
        suggest(name, sheets[target].named, f"the sheet {target.sheet}"),
    )


def ranges_run_forward(sheets: Sheets) -> Iterator[Message]:
    """Require that ``From`` is not after ``To``; both days belong to the range."""
    for model in (ClosureRow, CrewRow, AbsenceRow, CalendarRow, OutageRow, FunctionAbsenceRow):
        row: ClosureRow | CrewRow | AbsenceRow | CalendarRow | OutageRow | FunctionAbsenceRow
        for row in sheets[model].rows:  # type: ignore[assignment]
            if row.first and row.last and row.first > row.last:
                yield Message(
                    Level.ERROR,
                    sheets.at(row, "first"),
                    f"From {day(row.first)} is after To {day(row.last)}.",
                    "Correct one of the two.",
                )
