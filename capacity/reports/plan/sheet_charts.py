"""The sheet ``Man-hour charts``: a native chart for each skill over the rows of ``Man-hours``."""

from typing import Any

from capacity.reports.kit import formats
from capacity.reports.kit.sheet import Book
from capacity.reports.plan.sheet_weeks import COLUMNS, SHEET, by_skill
from capacity.reports.plan.view import View

WIDTH, HEIGHT = 760, 400
"""Pixels of one chart."""

ROWS_APART, COLUMNS_APART = 21, 12
"""Cells of the default size that hold a chart and some air around it."""

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


def charts_sheet(book: Book, view: View) -> None:
    """Add the sheet."""
    sheet = book.sheet("Man-hour charts", upright=True)
    sheet.hide_gridlines()
    sheet.write(0, 0, "Man-hours by week: demand and available", formats.TITLE)
    first = 1
    for number, (_, loads) in enumerate(by_skill(view)):
        last = first + len(loads) - 1
        row, column = divmod(number, 2)
        sheet.insert_chart(2 + ROWS_APART * row, COLUMNS_APART * column, _chart(book, first, last))
        first = last + 1


def _chart(book: Book, first: int, last: int) -> Any:
    """Return the chart of the skill whose weeks stand in rows ``first`` to ``last``."""
    chart = book.chart("column", "stacked")
    for heading, name, look in STACKED:
        chart.add_series({**_series(heading, name, first, last), **look, "gap": 40})
    lines = book.chart("line")
    for heading, name, line in LINES:
        lines.add_series({**_series(heading, name, first, last), "line": line})
    chart.combine(lines)
    # A title given as text would be taken for a reference when it looks like one.
    skill = [SHEET, first, _column("Skill")]
    chart.set_title({"name": skill, "name_font": {"size": 13}, "overlay": False})
    chart.set_x_axis({"name": "ISO week", "num_font": {"rotation": -90, "size": 8}})
    chart.set_y_axis(
        {
            "name": "man-hours per week (h)",
            "num_format": "#,##0",
            "min": 0,
            "major_gridlines": formats.CHART_GRID,
        }
    )
    chart.set_legend({"position": "bottom", "font": {"size": 8}})
    chart.set_size({"width": WIDTH, "height": HEIGHT})
    return chart


def _series(heading: str, name: str, first: int, last: int) -> dict[str, object]:
    return {
        "name": name,
        "categories": [SHEET, first, _column("Week"), last, _column("Week")],
        "values": [SHEET, first, _column(heading), last, _column(heading)],
    }


def _column(heading: str) -> int:
    return [column.heading for column in COLUMNS].index(heading)
