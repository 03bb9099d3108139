"""The sheet ``Crew hours``: man-hours of each crew assigned to each skill, week by week."""

from capacity.facts import Crew, Employment
from capacity.plans.plan import CrewHours
from capacity.reports.kit.formats import HOURS_OR_DASH
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.kit.week_column import monday_column
from capacity.reports.plan.view import View

SHEET = "Crew hours"


def crew_hours_sheet(book: Book, view: View) -> None:
    """Add the sheet; a crew of several skills has a row for each skill that it works in."""
    columns: tuple[Column[CrewHours], ...] = (
        Column("Week", lambda given: given.week, width=11),
        monday_column(lambda given: given.week),
        Column("Crew", lambda given: given.crew, width=24),
        Column("Employment", lambda given: str(view.base.crew(given.crew).employment), width=11),
        Column("Skill", lambda given: given.skill, width=16),
        Column("Assigned (h)", lambda given: given.hours, HOURS_OR_DASH, width=11),
        Column("Remarks", lambda given: _remarks(given, view.base.crew(given.crew)), width=44),
    )
    rows = view.outcome.audit.crew_hours
    write_sheet_table(book.sheet(SHEET), columns, rows, frozen_columns=3)


def _remarks(given: CrewHours, crew: Crew) -> str | None:
    """Say what is out of the ordinary: contract people, hours in another skill, some types."""
    words = []
    if crew.employment is Employment.CONTRACT:
        words.append("contract hours")
    if given.skill != crew.skills[0]:
        words.append(f"lent by {crew.skills[0]}")
    if crew.types:
        words.append(f"on {', '.join(sorted(crew.types))} only")
    return ", ".join(words) or None
