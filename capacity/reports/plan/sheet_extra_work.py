"""The sheet ``Extra work``: what checks have beyond their package, by stage, skill and reason."""

from datetime import timedelta

from capacity.reports.kit.formats import DATE, HOURS, WRAPPED
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.plan.extra_words import ExtraLine, extra_lines
from capacity.reports.plan.view import View

SHEET = "Extra work"
ONE_DAY = timedelta(days=1)


def extra_work_sheet(book: Book, view: View) -> None:
    """Add the sheet where the workbook has extra work of checks with a slot."""
    lines = extra_lines(view.outcome.plan, view.base)
    if lines:
        write_sheet_table(book.sheet(SHEET), _columns(view), lines, frozen_columns=3)


def _columns(view: View) -> tuple[Column[ExtraLine], ...]:
    return (
        Column("Check", lambda line: line.work.check, width=14),
        Column("Aircraft", lambda line: view.base.check(line.work.check).aircraft, width=12),
        Column("Stage", lambda line: line.work.stage, width=30),
        Column("Reason", lambda line: line.work.reason.value, width=24),
        Column("Skill", lambda line: line.work.skill, width=16),
        Column("Man-hours (h)", lambda line: line.work.man_hours, HOURS, width=11),
        Column("From", lambda line: line.first, DATE, width=17),
        Column("Last day worked", lambda line: line.until and line.until - ONE_DAY, DATE, width=17),
        Column("Remarks", _remarks, WRAPPED, width=40),
    )


def _remarks(line: ExtraLine) -> str | None:
    if line.first is None:
        return "the stage is done: not planned"
    return "a stage of this check alone" if line.is_new_stage else None
