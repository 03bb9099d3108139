"""The risk of a plan as tables, in the words of its workbook."""

from collections.abc import Sequence
from typing import TypeVar

from capacity.questions.risk.values import CheckRisk, Risk, WeekRisk
from capacity.reports.kit.sheet import Cell
from capacity.reports.kit.table import Column
from capacity.reports.risk.sheet_risk import CHECK_COLUMNS, WEEK_COLUMNS
from capacity.reports.risk.text import LEAST_RISK
from ui.rows import TableRow

Line = TypeVar("Line")

CHECK_HEADINGS = (
    "Check",
    "To be out by",
    "Agreed or planned day",
    "Out by then (% of simulations)",
    "Out by, in 50 % of simulations",
    "Out by, in 80 % of simulations",
    "Buffer (worked days)",
    "Buffer (man-hours)",
    "In later than planned (% of simulations)",
    "Bay",
    "In",
    "Planned out",
)
"""Columns of the workbook that the page has, what decides in front."""


def checks_at_risk(risk: Risk) -> list[TableRow]:
    """Return a line a check, the least likely to be out by its day first."""
    by_heading = {column.heading: column for column in CHECK_COLUMNS}
    columns = [by_heading[heading] for heading in CHECK_HEADINGS]
    return [_row(check, columns) for check in sorted(risk.checks, key=lambda c: c.on_day)]


def weeks_at_risk(risk: Risk) -> list[TableRow]:
    """Return a line a week and skill that may have overload, the most likely first."""
    weeks = sorted(weeks_to_show(risk), key=lambda w: (-w.overload, -w.expected_overload))
    return [_row(week, WEEK_COLUMNS) for week in weeks]


def weeks_to_show(risk: Risk) -> Sequence[WeekRisk]:
    """Return the weeks whose probability of overload is worth a word."""
    return [week for week in risk.weeks if week.overload >= LEAST_RISK]


def overload_by_week(risk: Risk) -> dict[tuple[str, str], float]:
    """Return the probability of overload, from 0 to 1, of each skill and week worth a word."""
    return {(week.skill, week.week): week.overload for week in weeks_to_show(risk)}


def out_by_its_day(risk: Risk) -> dict[str, float]:
    """Return the probability, from 0 to 1, that each check is out by its day."""
    return {check.check: check.on_day for check in risk.checks}


def risk_of_check(risk: Risk, name: str) -> CheckRisk | None:
    """Return how one check may end; None where it has no slot."""
    return next((check for check in risk.checks if check.check == name), None)


def _row(line: Line, columns: Sequence[Column[Line]]) -> TableRow:
    return {column.heading: _shown(column.value(line)) for column in columns}


def _shown(value: Cell) -> object:
    return round(value, 1) if isinstance(value, float) else value
