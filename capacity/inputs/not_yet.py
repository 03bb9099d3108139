"""What the workbook can say and no rule honours yet: refused, so that nothing is ignored."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from capacity.findings import Finding, Level
from capacity.inputs.row_model import Row
from capacity.inputs.rows import Sheets
from capacity.inputs.sheets import (
    BayRow,
    CheckRow,
    CrewRow,
    LoopRow,
    ShopRow,
    SkillRow,
    StageRow,
)


@dataclass(frozen=True, slots=True)
class Column:
    """A column, when a row uses it, and what it would ask for."""

    model: type[Row]
    field: str
    asks: str
    is_used: Callable[[Any], object]


REFUSED = (
    Column(CrewRow, "skills", "a crew of several skills", lambda crew: len(crew.skills) > 1),
    Column(CrewRow, "types", "crews authorised on some types", lambda crew: crew.types),
)

REFUSED_SHEETS: tuple[type[Row], ...] = (ShopRow, LoopRow)

NOTED = (
    Column(SkillRow, "licence", "crews are counted by skill", lambda skill: skill.licence),
    Column(
        StageRow,
        "findings_spread",
        "findings are planned at their mean",
        lambda stage: stage.findings_spread,
    ),
    Column(StageRow, "critical", "inspectors are not told apart", lambda stage: stage.critical),
    Column(StageRow, "by_night", "man-hours are counted by day", lambda stage: not stage.by_night),
    Column(CheckRow, "wanted_in", "no cost hangs on it", lambda check: check.wanted_in),
)


def columns_are_honoured(sheets: Sheets) -> Iterator[Finding]:
    """Refuse cells that ask for what no rule gives."""
    for column in REFUSED:
        for row in sheets[column.model].rows:
            if column.is_used(row):
                yield Finding(
                    Level.ERROR,
                    sheets.at(row, column.field),
                    f"{row.heading(column.field)} asks for {column.asks}, which is not planned "
                    "yet.",
                    _way_out(column.field),
                )


def _way_out(field: str) -> str:
    if field == "skills":
        return "Leave the crew's own skill alone, or split the crew."
    return "Clear the cell, and look after it by hand."


def one_kind_of_work_a_package(sheets: Sheets) -> Iterator[Finding]:
    """Refuse a second kind of work in a package, since a check stays in one bay."""
    done = {kind for bay in sheets[BayRow].rows for kind in bay.work}
    first: dict[str, str] = {}
    for stage in sheets[StageRow].rows:
        if sheets[BayRow].whole and stage.work not in done:
            continue  # misspelt, most likely, and told as such
        kind = first.setdefault(stage.package, stage.work)
        if stage.work != kind:
            yield Finding(
                Level.ERROR,
                sheets.at(stage, "work"),
                f"the package '{stage.package}' needs '{kind}' and '{stage.work}'; a move "
                "between bays is not planned yet.",
                "Split the package and the check into two.",
            )


def sheets_are_honoured(sheets: Sheets) -> Iterator[Finding]:
    """Refuse rows in a sheet that no rule reads."""
    for model in REFUSED_SHEETS:
        rows = sheets[model].rows
        if rows:
            yield Finding(
                Level.ERROR,
                sheets[model].places.cell(rows[0].row),
                f"what the sheet {model.sheet} says is not planned yet.",
                "Delete its rows, and look after it by hand.",
            )


def columns_that_ask_nothing(sheets: Sheets) -> Iterator[Finding]:
    """Note, once each, the columns that are read but change no plan."""
    for column in NOTED:
        used = next((row for row in sheets[column.model].rows if column.is_used(row)), None)
        if used is not None:
            yield Finding(
                Level.NOTE,
                sheets.at(used, column.field),
                f"{used.heading(column.field)} does not change this plan: {column.asks}.",
            )
