"""Columns that are read but change no plan: noted, so that nobody counts on them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CheckRow, SkillRow, StageRow
from capacity.messages import Level, Message


@dataclass(frozen=True, slots=True)
class Column:
    """A column, why it changes no plan, and when a row uses it."""

    model: type[Row]
    field: str
    why: str
    is_used: Callable[[Any], object]


NOTED = (
    Column(SkillRow, "licence", "it is for the crew plan", lambda skill: skill.licence),
    Column(
        StageRow,
        "findings_spread",
        "findings are planned at their mean; the risk simulation draws them",
        lambda stage: stage.findings_spread,
    ),
    Column(StageRow, "critical", "it is for the crew plan", lambda stage: stage.critical),
    Column(
        StageRow,
        "by_night",
        "it is for the crew plan",
        # With Max heads it says how many man-hours a day has room for.
        lambda stage: not stage.by_night and stage.max_heads is None,
    ),
    Column(
        StageRow,
        "types",
        "checks and enquiries of other types are refused",
        lambda stage: stage.types,
    ),
    Column(
        StageRow,
        "material_cost",
        "it is for the contribution of an enquiry or an option",
        lambda stage: stage.material_cost,
    ),
    Column(
        CheckRow,
        "wanted_in",
        "it carries no cost",
        lambda check: check.wanted_in and not check.wanted_cost_per_day,
    ),
    Column(
        CheckRow,
        "planned_out",
        "it is the record of the plan with which the check came in",
        lambda check: check.planned_out,
    ),
)


def columns_that_ask_nothing(sheets: Sheets) -> Iterator[Message]:
    """Note, once each, the columns that are read but change no plan."""
    for column in NOTED:
        used = next((row for row in sheets[column.model].rows if column.is_used(row)), None)
        if used is not None:
            yield Message(
                Level.NOTE,
                sheets.at(used, column.field),
                f"{used.heading(column.field)} does not change the slot plan: {column.why}.",
            )
