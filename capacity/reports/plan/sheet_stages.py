"""The sheet ``Stages``: every stage of every check with a slot with its days."""

from datetime import timedelta

from capacity.plans.plan import Placement, StageDays
from capacity.reports.kit.formats import DATE, WHOLE
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.plan.view import View


def stages_sheet(book: Book, view: View) -> None:
    """Add the sheet."""
    rows = [(placement, stage) for placement in view.placements for stage in placement.stages]
    write_sheet_table(book.sheet("Stages"), _columns(view), rows)


def _columns(view: View) -> tuple[Column[tuple[Placement, StageDays]], ...]:
    one_day = timedelta(days=1)
    return (
        Column("Check", lambda row: row[0].check, width=14),
        Column("Aircraft", lambda row: view.checks[row[0].check].aircraft, width=12),
        Column("Stage", lambda row: row[1].stage, width=24),
        Column("From", lambda row: row[1].first, DATE, width=17),
        Column("Last day worked", lambda row: row[1].until - one_day, DATE, width=17),
        Column("Until (next stage may start)", lambda row: row[1].until, DATE, width=17),
        Column("Calendar days", lambda row: (row[1].until - row[1].first).days, WHOLE, width=10),
        Column("Bay", lambda row: row[0].bay, width=12),
    )
