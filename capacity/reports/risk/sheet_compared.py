"""The sheet ``Two plans``: how a more careful plan does in the same simulations."""

from capacity.questions.risk.compared import CheckDifference, Comparison, Difference
from capacity.reports.kit.formats import HOURS, PERCENT, SECTION, TITLE, WRAPPED
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.table import Column, write_table

SHEET = "Two plans"

FIGURES: tuple[Column[Difference], ...] = (
    Column("Figure (average of the simulations)", lambda f: f.what, WRAPPED, width=26),
    Column("This plan", lambda f: f.a, HOURS, width=14),
    Column("The other plan", lambda f: f.b, HOURS, width=14),
    Column("Difference", lambda f: f.difference, HOURS, width=14),
    Column("Standard error", lambda f: f.standard_error, HOURS, width=14),
    Column("The other is better (% of simulations)", lambda f: 100 * f.b_better, PERCENT, width=16),
    Column("The other is worse (% of simulations)", lambda f: 100 * f.a_better, PERCENT, width=16),
)
CHECKS: tuple[Column[CheckDifference], ...] = (
    Column("Check", lambda c: c.check, width=26),
    Column("Out by its day, this plan (%)", lambda c: 100 * c.on_day_a, PERCENT, width=14),
    Column("Out by its day, the other (%)", lambda c: 100 * c.on_day_b, PERCENT, width=14),
    Column("Only in this plan (%)", lambda c: 100 * c.only_a, PERCENT, width=14),
    Column("Only in the other (%)", lambda c: 100 * c.only_b, PERCENT, width=14),
)


def risks_compared_sheet(book: Book, compared: Comparison) -> None:
    """Add the sheet; less is better in every figure."""
    sheet = book.sheet(SHEET)
    sheet.widths([column.width for column in FIGURES])
    sheet.write(0, 0, "Both plans in the same simulations", TITLE)
    row = write_table(sheet, 2, FIGURES, compared.figures)
    sheet.write(row + 1, 0, "Check by check", SECTION)
    row = write_table(sheet, row + 2, CHECKS, compared.checks)
    for names, whose in (
        (compared.placed_only_by_a, "this plan"),
        (compared.placed_only_by_b, "the other plan"),
    ):
        if names:
            row += 1
            sheet.write(row, 0, f"With a slot in {whose} alone: {', '.join(names)}")
