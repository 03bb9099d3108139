"""A copy of a workbook with further checks, and packages of their own, as rows of its sheets."""

from collections.abc import Mapping, Sequence
from dataclasses import fields
from enum import Enum
from pathlib import Path

from capacity.facts import Check, Package, Stage
from capacity.inputs.reading.edited_copy import SheetEdit, raw_tables
from capacity.inputs.reading.hours_by_skill import has_column_a_skill
from capacity.inputs.reading.places import same
from capacity.inputs.reading.sheets import CheckRow, HoursRow, StageRow
from capacity.inputs.reading.spliced_copy import spliced_copy

Cells = Mapping[str, object]


def booked_copy(path: Path, checks: Sequence[Check], packages: Sequence[Package]) -> bytes:
    """Return a copy of the workbook with the checks and packages below its own rows.

    Every other cell, format and note stays as it is. The man-hours are added in the form that
    the sheet has: a row a stage and skill, or a column a skill.

    Raises
    ------
    InputError
        When the workbook cannot be read or copied.
    """
    hours = raw_tables(path).get(same(HoursRow.sheet))
    by_column = hours is not None and bool(hours.rows) and has_column_a_skill(hours)
    stages = [(package, stage) for package in packages for stage in package.stages]
    rows = [_by_column(p, s) for p, s in stages] if by_column else _by_row(stages)
    edits = (
        SheetEdit(StageRow.sheet, added=tuple(_stage_row(*pair) for pair in stages)),
        SheetEdit(HoursRow.sheet, added=tuple(rows)),
        SheetEdit(CheckRow.sheet, added=tuple(_check_row(check) for check in checks)),
    )
    return spliced_copy(path, [edit for edit in edits if not edit.is_empty])


def _stage_row(package: Package, stage: Stage) -> Cells:
    cells = {
        "Package": package.name,
        "Stage": stage.name,
        "Work": stage.work,
        "Days": stage.days,
        "Max heads": stage.max_heads,
        "Types": ", ".join(package.types) or None,
    }
    return {heading: value for heading, value in cells.items() if value is not None}


def _by_row(stages: Sequence[tuple[Package, Stage]]) -> list[Cells]:
    return [
        {"Package": package.name, "Stage": stage.name, "Skill": skill, "Man-hours": hours}
        for package, stage in stages
        for skill, hours in stage.man_hours.items()
    ]


def _by_column(package: Package, stage: Stage) -> Cells:
    return {"Package": package.name, "Stage": stage.name, **stage.man_hours}


def _check_row(check: Check) -> Cells:
    """Return the cells of a check; what is as a blank cell would have it is left blank."""
    cells: dict[str, object] = {}
    for field in fields(check):
        value = getattr(check, field.name)
        if value != field.default:
            heading = CheckRow.heading("check" if field.name == "name" else field.name)
            cells[heading] = _as_cell(value)
    return cells


def _as_cell(value: object) -> object:
    match value:
        case bool():
            return "yes" if value else "no"
        case Enum():
            return str(value.value)
        case _:
            return value
