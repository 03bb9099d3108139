"""The sheet ``Progress``: what the checks in work have earned and booked, and will have taken."""

from capacity.plans.earned_value import Earned, earned_by_check
from capacity.reports.kit.formats import DATE, HOURS, PEOPLE, SIGNED_HOURS, WRAPPED
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.plan.progress_words import against_plan, counts_too_little
from capacity.reports.plan.view import View
from capacity.words import hours

SHEET = "Progress"
WHOLE = "the check as a whole"


def progress_sheet(book: Book, view: View) -> None:
    """Add the sheet where any check has progress: its stages, then the check as a whole."""
    lines = [line for of_check in earned_by_check(view.base).values() for line in of_check]
    if lines:
        write_sheet_table(book.sheet(SHEET), _columns(view), lines, frozen_columns=3)


def _columns(view: View) -> tuple[Column[Earned], ...]:
    return (
        Column("Check", lambda line: line.check, width=14),
        Column("Aircraft", lambda line: view.base.check(line.check).aircraft, width=12),
        Column("Stage", lambda line: line.stage or WHOLE, width=30),
        Column("As of", lambda line: line.as_of, DATE, width=17),
        Column("Planned (h)", lambda line: line.planned, HOURS, width=11),
        Column("Booked (h)", lambda line: line.booked, HOURS, width=11),
        Column("Earned (h)", lambda line: line.earned, HOURS, width=11),
        Column("To go (h)", lambda line: line.to_go, HOURS, width=11),
        Column("Performance factor (earned / booked)", lambda line: line.factor, PEOPLE, width=14),
        Column("Estimate at completion (h)", lambda line: line.estimate, HOURS, width=13),
        Column("More than planned (h)", lambda line: line.grown, SIGNED_HOURS, width=12),
        Column("What it says", _says, WRAPPED, marked=counts_too_little, width=50),
    )


def _says(line: Earned) -> str | None:
    said = [against_plan(line)]
    if counts_too_little(line):
        said.append(
            f"at this factor {hours(line.to_go_at_factor or 0.0)} are to go, more than the plan "
            "counts"
        )
    return "; ".join(filter(None, said)) or None
