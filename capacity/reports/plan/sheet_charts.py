"""The sheet ``Man-hour charts``: a native chart for each skill over the rows of ``Man-hours``."""

from collections.abc import Sequence
from typing import Any

from capacity.reports.kit import formats
from capacity.reports.kit.charts import COLUMNS_APART, ROWS_APART, finish
from capacity.reports.kit.sheet import Book
from capacity.reports.plan.sheet_weeks import SHEET, by_skill, columns_of
from capacity.reports.plan.view import View

STACKED = (
    ("Within regular hours (h)", "regular", formats.CHART_REGULAR),
    ("Overtime (h)", "overtime", formats.CHART_OVERTIME),
    ("Contract (h)", "contract", formats.CHART_CONTRACT),
    ("Overload (h)", "overload", formats.CHART_OVERLOAD),
)

LINES = (
    ("Regular (h)", "regular hours available", formats.CHART_LINE),
    (
        "Available with overtime and contract (h)",
        "available with overtime and contract",
        formats.CHART_DASHED_LINE,
    ),
)


EVENLY = ("Demand spread evenly (h)", "demand, spread evenly", formats.CHART_THIN_LINE)


def charts_sheet(book: Book, view: View) -> None:
    """Add the sheet."""
    sheet = book.sheet("Man-hour charts", upright=True)
    sheet.hide_gridlines()
    sheet.write(0, 0, "Man-hours by week: demand and available", formats.TITLE)
    headings = [column.heading for column in columns_of(view)]
    first = 1
    for number, (_, loads) in enumerate(by_skill(view)):
        last = first + len(loads) - 1
        row, column = divmod(number, 2)
        sheet.insert_chart(
            2 + ROWS_APART * row, COLUMNS_APART * column, _chart(book, headings, first, last)
        )
        first = last + 1


def _chart(book: Book, headings: Sequence[str], first: int, last: int) -> Any:
    """Return the chart of the skill whose weeks stand in rows ``first`` to ``last``."""

    def series(heading: str, name: str) -> dict[str, object]:
        def cells(of: str) -> list[object]:
            return [SHEET, first, headings.index(of), last, headings.index(of)]

        return {"name": name, "categories": cells("Week"), "values": cells(heading)}

    chart = book.chart("column", "stacked")
    for heading, name, look in STACKED:
        chart.add_series({**series(heading, name), **look, "gap": 40})
    lines = book.chart("line")
    for heading, name, line in (*LINES, EVENLY):
        if heading in headings:
            lines.add_series({**series(heading, name), "line": line})
    chart.combine(lines)
    skill: list[object] = [SHEET, first, headings.index("Skill")]
    return finish(chart, skill, "ISO week", "man-hours per week (h)", min=0)
