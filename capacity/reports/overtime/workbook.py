"""The overtime workbook: where the overtime is, what it comes to, and what would take it away."""

from collections.abc import Sequence
from math import fsum
from pathlib import Path

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.questions.overtime.measures import Measures
from capacity.questions.overtime.review import OvertimeReview
from capacity.reports.kit.formats import BOLD, HOURS, MONEY, NOTE, SECTION, TITLE, WRAPPED
from capacity.reports.kit.sheet import Book, Sheet
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.overtime.sheet_measures import measures_sheet
from capacity.reports.overtime.sheet_weeks import overtime_week_sheets
from capacity.reports.overtime.sheet_working_time import paragraphs, working_time_sheet
from capacity.reports.overtime.wording import (
    LONG_HOURS,
    PRICES_MISSING,
    effect,
    limits_in_words,
    takes_away,
    totals_in_words,
    tried_in_words,
)
from capacity.reports.plan.wording import CAUTION
from capacity.words import counted, day
from capacity.working_time.wording import CAUTION as WORKING_TIME_CAUTION

SHEET = "Overtime"
LAST = 3
MOST_MEASURES = 5
RIGHT = BOLD | {"align": "right", "indent": 1}
NO_MEASURES = "No measures were tried."


def write_overtime_workbook(
    review: OvertimeReview,
    measures: Measures | None,
    base: Base,
    path: Path,
    plans: Sequence[Plan] = (),
) -> None:
    """Write the overtime workbook whole or not at all; raises ``OutputError``."""
    write_whole(overtime_workbook(review, measures, base, plans), path)


def overtime_workbook(
    review: OvertimeReview, measures: Measures | None, base: Base, plans: Sequence[Plan] = ()
) -> bytes:
    """Return the overtime workbook as the bytes of an ``.xlsx`` file.

    Without ``measures`` there is no sheet of them.
    """
    book = Book(title=f"Overtime {base.name}", plans=plans)
    _overview(book.sheet(SHEET, upright=True), review, measures, base)
    overtime_week_sheets(book, review, base)
    if measures is not None:
        measures_sheet(book, measures, base)
    working_time_sheet(book, review, base)
    return book.content()


def _overview(sheet: Sheet, review: OvertimeReview, measures: Measures | None, base: Base) -> None:
    sheet.widths([34, 18, 18, 46])
    sheet.hide_gridlines()
    sheet.write(0, 0, f"Overtime of {base.name}", TITLE)
    sheet.write(1, 0, f"From {day(base.first_day)}, {counted(base.weeks, 'week')}")
    row = 3
    sheet.write(row, 1, "Man-hours", RIGHT)
    sheet.write(row, 2, base.currency, RIGHT)
    weeks = review.weeks
    for label, amount, money in (
        ("Overtime", review.overtime_hours, fsum(w.overtime_money for w in weeks)),
        ("Contract labour", review.contract_hours, fsum(w.contract_money for w in weeks)),
        ("Overload", review.overload_hours, fsum(w.overload_money for w in weeks)),
    ):
        row += 1
        sheet.write(row, 0, label, BOLD)
        sheet.write(row, 1, amount, HOURS)
        sheet.write(row, 2, money, MONEY)
    sheet.write(row + 1, 0, "Least cost, slots as they are", BOLD)
    sheet.write(row + 1, 2, review.least_money, MONEY)
    row = paragraphs(sheet, row + 3, LAST, (totals_in_words(review, base),), WRAPPED)
    for title, sentences, look in (
        ("What would take it away", _measure_lines(measures, base), WRAPPED),
        ("Working-time limits", (limits_in_words(review, base),), WRAPPED),
        ("Cautions", (LONG_HOURS, WORKING_TIME_CAUTION, CAUTION), NOTE),
    ):
        sheet.run(row + 1, 0, LAST, title, SECTION)
        row = paragraphs(sheet, row + 2, LAST, sentences, look)


def _measure_lines(measures: Measures | None, base: Base) -> tuple[str, ...]:
    if measures is None:
        return (NO_MEASURES,)
    best = [measure for measure in measures.measures if takes_away(measure, measures)][
        :MOST_MEASURES
    ]
    lines = [
        f"{n}. {measure.what}: {effect(measure, measures, base)}"
        for n, measure in enumerate(best, 1)
    ]
    return (tried_in_words(measures), *lines, *([PRICES_MISSING] if lines else []))
