"""The sheet ``Ready dates``: what waits for what in the plan, and how long."""

from capacity.plans.waiting import Waiting, waiting_in
from capacity.reports.kit.formats import DATE, WHOLE_OR_DASH, WRAPPED
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.plan.view import View

SHEET = "Ready dates"
WHAT_IT_COSTS = "capacity explain --ready-dates says what each of them costs."


def ready_dates_sheet(book: Book, view: View) -> None:
    """Add the sheet where the workbook has Ready dates of checks with a slot."""
    lines = waiting_in(view.outcome.plan, view.base)
    if lines:
        write_sheet_table(book.sheet(SHEET), _columns(view), lines, frozen_columns=3)


def _columns(view: View) -> tuple[Column[Waiting], ...]:
    return (
        Column("Check", lambda line: line.ready.check, width=14),
        Column("Aircraft", lambda line: view.base.check(line.ready.check).aircraft, width=12),
        Column("Stage", lambda line: line.ready.stage, width=30),
        Column("Waits for", lambda line: line.ready.reason or None, WRAPPED, width=30),
        Column("Not before", lambda line: line.ready.not_before, DATE, width=17),
        Column("Stage starts", lambda line: line.starts, DATE, width=17),
        Column("Days it waits", lambda line: line.waits, WHOLE_OR_DASH, width=10),
        Column("Days later out for it", lambda line: line.longer, WHOLE_OR_DASH, width=11),
        Column("Remarks", _remarks, WRAPPED, width=50),
    )


def _remarks(line: Waiting) -> str:
    if line.starts is None:
        return "the stage is done: the date is ignored"
    if not line.waits:
        return "holds nothing back in this plan"
    return WHAT_IT_COSTS
