"""Man-hours of one skill by week, against what regular hours, overtime and contract can carry."""

from typing import Any

import altair as alt

from ui.charts.common import PICK, day_tip, number_tip, rows_of, styled, tip, week_axis, week_scale
from ui.look import Look
from ui.planner.week_rows import LIMITS, SHARES, WeekRows

HEIGHT_PIXELS = 340
DASHES = ([1, 0], [8, 4], [2, 3])
"""Solid, dashed and dotted: the lines are told apart in grey too."""


def man_hours_chart(rows: WeekRows, look: Look) -> alt.LayerChart:
    """Return the chart; a click on a week is told as ``pick``, with the field ``week``."""
    layers = [_parts(rows, look), _lines(rows, look), *_over(rows, look)]
    return styled(alt.layer(*layers), look, HEIGHT_PIXELS)


def _days(field: str, rows: WeekRows) -> alt.X:
    axis = week_axis(rows.mondays, "week from Monday")
    return alt.X(field, type="temporal", axis=axis, scale=week_scale(rows.mondays))


def _hours(field: str) -> alt.Y:
    axis = alt.Axis(title="man-hours a week", format=",.0f", tickCount=6)
    return alt.Y(field, type="quantitative", axis=axis, scale=alt.Scale(domainMin=0))


def _parts(rows: WeekRows, look: Look) -> Any:
    pick = alt.selection_point(name=PICK, fields=["week"], on="click")
    return (
        alt.Chart(rows_of(rows.parts))
        .mark_rect(stroke=look.paper, strokeWidth=1, cursor="pointer")
        .encode(
            x=_days("from", rows),
            x2=alt.X2("until"),
            y=_hours("y0"),
            y2=alt.Y2("y1"),
            fill=alt.Fill(
                "share:N",
                title="Asked by the checks, done",
                scale=alt.Scale(domain=list(SHARES), range=list(look.hours)),
            ),
            opacity=alt.condition(pick, alt.value(1.0), alt.value(0.4)),
            tooltip=[
                tip("week", "Week"),
                day_tip("from", "From"),
                day_tip("last", "To, included"),
                tip("share", "Done"),
                number_tip("hours", "of it (man-hours)"),
                number_tip("demand", "Asked in all (man-hours)"),
            ],
        )
        .add_params(pick)
    )


def _lines(rows: WeekRows, look: Look) -> Any:
    """Draw a step line for each limit; colour and dash share a legend, as their titles do."""
    scales = {
        "stroke": alt.Stroke(
            "limit:N",
            title="Could be carried by",
            scale=alt.Scale(domain=list(LIMITS), range=list(look.lines)),
        ),
        "strokeDash": alt.StrokeDash(
            "limit:N",
            title="Could be carried by",
            scale=alt.Scale(domain=list(LIMITS), range=list(DASHES)),
        ),
    }
    levels = [
        {**row, "day": row[end], "turn": 2 * number + turn}
        for number, row in enumerate(rows.limits)
        for turn, end in enumerate(("from", "until"))
    ]
    return (
        alt.Chart(rows_of(levels))
        .mark_line(strokeWidth=2)
        .encode(x=_days("day", rows), y=_hours("y"), order=alt.Order("turn:Q"), **scales)
    )


def _over(rows: WeekRows, look: Look) -> list[Any]:
    base = alt.Chart(rows_of(rows.over)).encode(x=_days("middle", rows), y=_hours("y"))
    mark = base.mark_point(shape="triangle-down", size=90, filled=True, color=look.late, dy=-8)
    word = base.mark_text(
        baseline="bottom", dy=-16, fontWeight="bold", fontSize=11, color=look.late
    ).encode(text=alt.Text("label:N"))
    return [mark, word]
