"""Man-hours of one skill by week: the demand by what meets it, and the hours available."""

from typing import Any

import altair as alt

from capacity.reports.plan.moved_words import EVEN_DEMAND
from capacity.words.marks import TRIANGLE
from capacity.words.palette import HOURS, INK, OVERLOAD
from ui.charts.common import PICK, day_tip, number_tip, rows_of, styled, tip, week_axis, week_scale
from ui.legend import Swatch
from ui.look import Look
from ui.planner.week_rows import LIMITS, SHARES, WeekRows

HEIGHT_PIXELS, CROWDED_PIXELS = 340, 440
THIN = 1.2
"""Pixels: the lines of the hours available are thicker."""


DASHES = ([1, 0], [8, 4], [2, 3])
"""Solid, dashed and dotted: the lines are told apart in grey too."""

MOST_WORDED_WEEKS = 20
"""More weeks than these are too narrow for words side by side: they stand upright."""

ROOM, UPRIGHT_ROOM = 1.3, 1.5
"""How much higher than its contents the chart is where words stand above them."""


def man_hours_chart(rows: WeekRows, look: Look) -> alt.LayerChart:
    """Return the chart; a click on a week is told as ``pick``, with the field ``week``."""
    layers = [
        _parts(rows, look),
        _hatching(rows),
        *_even(rows, look),
        _limits(rows, look),
        *_over(rows, look),
    ]
    chart = alt.layer(*layers).resolve_scale(strokeDash="independent")
    return styled(chart, look, CROWDED_PIXELS if _is_crowded(rows) else HEIGHT_PIXELS)


def _days(field: str, rows: WeekRows) -> alt.X:
    axis = week_axis(rows.mondays, "week from Monday")
    return alt.X(field, type="temporal", axis=axis, scale=week_scale(rows.mondays))


def _hours(field: str, rows: WeekRows) -> alt.Y:
    axis = alt.Axis(title="man-hours a week", format=",.0f", tickCount=6)
    scale = alt.Scale(domainMin=0)
    if rows.over:
        # Room for triangles and their words, which would run into the legend above.
        tops = [float(str(row["y"])) for row in (*rows.over, *rows.limits, *rows.even)]
        scale = alt.Scale(domain=[0, max(tops) * (UPRIGHT_ROOM if _is_crowded(rows) else ROOM)])
    return alt.Y(field, type="quantitative", axis=axis, scale=scale)


def _is_crowded(rows: WeekRows) -> bool:
    return len(rows.mondays) > MOST_WORDED_WEEKS


def _parts(rows: WeekRows, look: Look) -> Any:
    pick = alt.selection_point(name=PICK, fields=["week"], on="click")
    return (
        alt.Chart(rows_of(rows.parts))
        .mark_rect(stroke=look.ink, strokeWidth=0.8, cursor="pointer")
        .encode(
            x=_days("from", rows),
            x2=alt.X2("until"),
            y=_hours("y0", rows),
            y2=alt.Y2("y1"),
            fill=alt.Fill(
                "share:N",
                scale=alt.Scale(domain=list(SHARES), range=[paint.fill for paint in HOURS]),
                legend=None,
            ),
            opacity=alt.condition(pick, alt.value(1.0), alt.value(0.4)),
            tooltip=[
                tip("week", "Week"),
                day_tip("from", "From"),
                day_tip("last", "To, included"),
                tip("share", "Met by"),
                number_tip("hours", "Man-hours"),
                number_tip("demand", "Demand (man-hours)"),
            ],
        )
        .add_params(pick)
    )


def man_hours_legend() -> list[Swatch]:
    """Return the legend of the blocks."""
    signs = {OVERLOAD.word: TRIANGLE}
    return [Swatch(paint.word, paint, sign=signs.get(paint.word, "")) for paint in HOURS]


def _hatching(rows: WeekRows) -> Any:
    """Draw the lines by which overtime and contract labour are told apart in grey."""
    return (
        alt.Chart(rows_of(rows.lines))
        .mark_rule(color=INK, strokeWidth=0.8, opacity=0.55, tooltip=None, aria=False)
        .encode(x=_days("from", rows), x2=alt.X2("until"), y=_hours("y0", rows), y2=alt.Y2("y1"))
    )


def _even(rows: WeekRows, look: Look) -> list[Any]:
    """Draw a thin line for the demand of an even spread, where it is not that of the blocks.

    Its rim has the colour of the page, so that it is seen upon every colour of the blocks.
    """
    if not rows.even:
        return []
    lines = alt.Chart(rows_of(rows.even)).encode(
        x=_days("from", rows), x2=alt.X2("until"), y=_hours("y", rows)
    )
    rim = lines.mark_rule(color=look.paper, strokeWidth=4, aria=False, tooltip=None)
    dashes = alt.StrokeDash(
        "line:N",
        title="Thin line",
        scale=alt.Scale(domain=[EVEN_DEMAND], range=[[1, 0]]),
        legend=alt.Legend(
            symbolStrokeColor=look.ink, symbolSize=1600, symbolStrokeWidth=THIN, symbolType="stroke"
        ),
    )
    line = lines.mark_rule(color=look.ink, strokeWidth=THIN).encode(
        strokeDash=dashes,
        tooltip=[
            tip("week", "Week"),
            number_tip("y", "Demand, spread evenly (man-hours)"),
            number_tip("demand", "Demand (man-hours)"),
            number_tip("moved", "Moved in (+) or out (-) (man-hours)"),
        ],
    )
    return [rim, line]


def _limits(rows: WeekRows, look: Look) -> Any:
    """Draw a step line for the hours available with each kind; the dashes tell them apart."""
    dashes = alt.StrokeDash(
        "limit:N",
        title="Available",
        scale=alt.Scale(domain=list(LIMITS), range=list(DASHES)),
        legend=alt.Legend(symbolStrokeColor=look.ink, symbolSize=1600, symbolStrokeWidth=2),
    )
    levels = [
        {**row, "day": row[end], "turn": 2 * number + turn}
        for number, row in enumerate(rows.limits)
        for turn, end in enumerate(("from", "until"))
    ]
    return (
        alt.Chart(rows_of(levels))
        .mark_line(strokeWidth=2, color=look.ink)
        .encode(
            x=_days("day", rows), y=_hours("y", rows), order=alt.Order("turn:Q"), strokeDash=dashes
        )
    )


def _over(rows: WeekRows, look: Look) -> list[Any]:
    # Where words stand upright, the triangle alone says what the hours are.
    over = [
        {**row, "label": str(row["label"]).removeprefix(f"{OVERLOAD.word} ")}
        if _is_crowded(rows)
        else row
        for row in rows.over
    ]
    base = alt.Chart(rows_of(over)).encode(x=_days("middle", rows), y=_hours("y", rows))
    mark = base.mark_point(
        shape="triangle-up",
        size=110,
        filled=True,
        opacity=1,
        color=OVERLOAD.fill,
        stroke=look.ink,
        yOffset=-9,
    )
    place: dict[str, Any] = {"baseline": "bottom", "dy": -20}
    if _is_crowded(rows):
        place = {"angle": 270, "align": "left", "baseline": "middle", "dx": 20}
    word = base.mark_text(**place, fontWeight="bold", fontSize=12, color=look.ink).encode(
        text=alt.Text("label:N")
    )
    return [mark, word]
