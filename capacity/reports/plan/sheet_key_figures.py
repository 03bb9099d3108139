"""The sheet ``Key figures``: one page about the plan for management."""

from collections.abc import Sequence

from capacity.questions.key_figures.values import KeyFigures
from capacity.reports.kit import formats
from capacity.reports.kit.formats import LEFT, PERCENT, SECTION, WHOLE, WRAPPED, Look
from capacity.reports.kit.paragraphs import write_paragraphs
from capacity.reports.kit.sheet import Book, Sheet
from capacity.reports.kit.table import write_table
from capacity.reports.plan import key_figure_columns as columns
from capacity.reports.plan import key_figure_words as words
from capacity.reports.plan.key_figure_words import KeyLine
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import CAUTION

SHEET = words.TITLE
WIDTHS = (26, 15, 15, 15, 15, 15, 15, 15, 15, 15, 15)
LAST = len(WIDTHS) - 1
LOOKS: dict[str, Look] = {
    words.PERCENT: PERCENT,
    words.DAYS: formats.HOURS,
    words.HOURS: formats.HOURS,
    words.COUNT: WHOLE,
}


def key_figures_sheet(book: Book, view: View, figures: KeyFigures) -> None:
    """Add the sheet: the figures, what changed, and the tables behind them."""
    sheet = book.sheet(SHEET)
    sheet.hide_gridlines()
    sheet.widths(WIDTHS)
    sheet.write(0, 0, f"Key figures of {view.base.name}", formats.TITLE)
    sheet.write(1, 0, f"Planning period {words.period(figures)}.")
    row = write_paragraphs(sheet, 2, (CAUTION,), formats.NOTE, WIDTHS) + 1
    row = _figures(sheet, row, view, figures)
    row = _changed(sheet, row, figures)
    for title, of_table, rows in columns.tables_of(figures, view.base):
        _section(sheet, row, title)
        row = write_table(sheet, row + 1, of_table, rows) + 1
    if figures.options and view.base.labour_rate is None:
        write_paragraphs(sheet, row - 1, (words.WHEN_UNCOUNTED,), formats.NOTE, WIDTHS)


def _figures(sheet: Sheet, row: int, view: View, figures: KeyFigures) -> int:
    """Write a line a figure, with that of the earlier plan beside it where there is one."""
    lines = words.lines_of(figures, view.base)
    before: Sequence[KeyLine | None] = [None] * len(lines)
    headings = ["Figure", "Value", "Unit"]
    if figures.changed is not None:
        before = words.lines_of(figures.changed.before, view.base)
        headings += ["Earlier plan", "Change"]
    for place, heading in enumerate(headings):
        is_number = place in (1, 3, 4)
        sheet.write(row, place, heading, formats.HEADING_RIGHT if is_number else formats.HEADING)
    first = len(headings)
    sheet.run(row, first, LAST, "What it says, and how it is counted", formats.HEADING)
    for number, (line, old) in enumerate(zip(lines, before, strict=True), start=row + 1):
        look = LOOKS.get(line.unit, WHOLE)
        sheet.write(number, 0, line.name, formats.BOLD)
        sheet.write(number, 1, line.value, look)
        sheet.write(number, 2, line.unit, LEFT)
        if old is not None:
            sheet.write(number, 3, old.value, look)
            known = line.value is not None and old.value is not None
            change = (line.value or 0.0) - (old.value or 0.0) if known else None
            sheet.write(number, 4, change, look)
        said = line.explained
        sheet.run(number, first, LAST, said, WRAPPED)
        width = 0.85 * sum(WIDTHS[first:])
        sheet.height(number, 15 * (1 + int(len(said) // width)))
    return row + len(lines) + 2


def _changed(sheet: Sheet, row: int, figures: KeyFigures) -> int:
    _section(sheet, row, "What changed since the earlier plan")
    said = (
        [words.NO_EARLIER]
        if figures.changed is None
        else list(words.changed_in_words(figures.changed))
    )
    return write_paragraphs(sheet, row + 1, said, WRAPPED, WIDTHS) + 1


def _section(sheet: Sheet, row: int, title: str) -> None:
    sheet.write_row(row, [title, *[None] * LAST], SECTION)
