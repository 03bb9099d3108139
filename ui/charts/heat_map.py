"""Weeks across and skills down: how full each is, as a named band with a number printed on it."""

from typing import Any

import altair as alt

from ui.charts.common import PICK, day_tip, number_tip, rows_of, styled, tip
from ui.look import Look
from ui.manager.heat_rows import PAINTS, Band, HeatRows

ROW_PIXELS, AXIS_PIXELS = 34, 70
MOST_LEVEL_WEEKS, TURNED_ROW_PIXELS = 18, 72
"""In more weeks than these the numbers are wider than their cells: they stand upright then."""

NUMBER_SIZE, RISK_SIZE, LINE_PIXELS = 11, 10, 7
"""Sizes of the number and of the risk below it, and how far each is from the middle."""


def heat_map(rows: HeatRows, look: Look) -> alt.LayerChart:
    """Return the chart; a click is told as ``pick``, with the fields ``skill`` and ``week``."""
    level = ROW_PIXELS + 2 * LINE_PIXELS if has_risk(rows) else ROW_PIXELS
    row = TURNED_ROW_PIXELS if _is_turned(rows) else level
    height = row * max(1, len(rows.skills)) + AXIS_PIXELS
    layers = [_cells(rows, look), _numbers(rows, look)]
    if has_risk(rows):
        layers.append(_risks(rows, look))
    return styled(alt.layer(*layers), look, height)


def has_risk(rows: HeatRows) -> bool:
    """Return whether the risk of overload is known of any week."""
    return any(cell["risk"] for cell in rows.cells)


def _is_turned(rows: HeatRows) -> bool:
    return len(rows.weeks) > MOST_LEVEL_WEEKS


def _places(rows: HeatRows) -> dict[str, Any]:
    weeks = alt.Axis(title="ISO week", orient="top", labelAngle=0, labelOverlap=True, grid=False)
    skills = alt.Axis(title=None, labelLimit=160, grid=False)
    return {
        "x": alt.X("week:N", sort=list(rows.weeks), axis=weeks),
        "y": alt.Y("skill:N", sort=list(rows.skills), axis=skills),
    }


def _cells(rows: HeatRows, look: Look) -> Any:
    pick = alt.selection_point(name=PICK, fields=["skill", "week"], on="click")
    return (
        alt.Chart(rows_of(rows.cells))
        .mark_rect(cursor="pointer")
        .encode(
            **_places(rows),
            fill=alt.Fill(
                "band:N",
                scale=alt.Scale(
                    domain=[band.value for band in Band],
                    range=[look.ground(PAINTS[band]) for band in Band],
                ),
                legend=None,
            ),
            stroke=alt.condition(pick, alt.value(look.ink), alt.value(look.rule), empty=False),
            strokeWidth=alt.condition(pick, alt.value(3), alt.value(1), empty=False),
            tooltip=[
                tip("skill", "Skill"),
                tip("week", "Week"),
                *([tip("risk", "Overload in simulations")] if has_risk(rows) else []),
                day_tip("monday", "From"),
                day_tip("sunday", "To, included"),
                number_tip("demand", "Demand (man-hours)"),
                number_tip("regular", "Regular (man-hours)"),
                number_tip("overtime", "Overtime (man-hours)"),
                number_tip("contract", "Contract (man-hours)"),
                number_tip("overload", "Overload (man-hours)"),
            ],
        )
        .add_params(pick)
    )


def _numbers(rows: HeatRows, look: Look) -> Any:
    return _written("printed", NUMBER_SIZE, -1 if has_risk(rows) else 0, rows, look)


def _risks(rows: HeatRows, look: Look) -> Any:
    return _written("risk", RISK_SIZE, 1, rows, look)


def _written(field: str, size: int, line: int, rows: HeatRows, look: Look) -> Any:
    """Write a field into the cells; ``line`` is -1 above the middle, 0 on it, 1 below."""
    inks = alt.Color(
        "band:N",
        scale=alt.Scale(
            domain=[band.value for band in Band], range=[look.ink_on(PAINTS[band]) for band in Band]
        ),
        legend=None,
    )
    return (
        alt.Chart(rows_of(rows.cells))
        .mark_text(fontSize=size, angle=270 if _is_turned(rows) else 0, dy=line * LINE_PIXELS)
        .encode(**_places(rows), text=alt.Text(f"{field}:N"), color=inks)
    )
