"""What the native charts of all workbooks have in common: size, title, axes, legend."""

from typing import Any

from capacity.reports.kit import formats

WIDTH, HEIGHT = 760, 400
"""Pixels of one chart."""

ROWS_APART, COLUMNS_APART = 21, 12
"""Cells of the default size that hold a chart and some air around it."""


def finish(chart: Any, title: list[object], weeks: str, amounts: str, **scale: float) -> Any:
    """Return a chart over weeks with its title, axes, legend and size.

    ``title`` is the sheet, row and column of the cell that has it: given as text, one that looks
    like a reference would be taken for one. ``scale`` may hold the ``min`` of the amounts.
    """
    chart.set_title({"name": title, "name_font": {"size": 13}, "overlay": False})
    chart.set_x_axis({"name": weeks, "num_font": {"rotation": -90, "size": 8}})
    chart.set_y_axis(
        {
            "name": amounts,
            "num_format": "#,##0",
            **scale,
            "major_gridlines": formats.CHART_GRID,
        }
    )
    chart.set_legend({"position": "bottom", "font": {"size": 8}})
    chart.set_size({"width": WIDTH, "height": HEIGHT})
    return chart
