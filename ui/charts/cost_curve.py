"""The break-even price of an enquiry, against the week in which the aircraft comes in."""

from collections.abc import Sequence
from typing import Any

import altair as alt

from capacity.facts import Base
from capacity.plans.plan import Placement
from capacity.plans.weeks import week_name
from capacity.questions.enquiries.values import EnquiryAnswer, WeekPrice
from capacity.reports.enquiries.ways import NOBODY_MOVED, OTHERS_MOVED, ways_of
from capacity.reports.enquiries.wording import lowest_price
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.words import LEAST_MONEY, day, money, week_dates
from capacity.words.palette import OVERLOAD
from ui.charts.common import rows_of, styled, tip
from ui.commercial.words import NO_SLOT
from ui.look import Look
from ui.rows import Row

HEIGHT_PIXELS = 390
NO_SLOT_AT = "height - 8"
"""Just above the axis, wherever the layout of the page puts that."""

LONGEST_LABEL_PIXELS, LEGEND_COLUMNS = 300, 1
"""Beside each other they have no room on a phone."""

SLOT = NOBODY_MOVED
SLOT_OVERLOADS = "nobody moved, with overload"
MOVED = OTHERS_MOVED
KINDS = (SLOT, SLOT_OVERLOADS, MOVED, NO_SLOT)
SLANTED_CROSS = (
    "M0,-.35L.65,-1L1,-.65L.35,0L1,.65L.65,1L0,.35L-.65,1L-1,.65L-.35,0L-1,-.65L-.65,-1Z"
)
SHAPES = ("circle", "triangle-up", "diamond", SLANTED_CROSS)
"""A shape a kind, so that they are told apart in grey too."""


def curve_rows(answer: EnquiryAnswer, base: Base) -> list[Row]:
    """Return a row a week of the window, and one for the way in which others move.

    ``run`` counts the weeks without a slot so far: a line joins weeks of the same run only.
    """
    rows: list[Row] = []
    run = 0
    for price in answer.curve:
        run += price.slot is None
        rows.append({**_week(price.week), "run": run, **_slot(price, base)})
    for way in ways_of(answer):
        if way.name == OTHERS_MOVED:
            told = _told(MOVED, way.lowest_price, way.placements, base)
            rows.append({**_week(week_name(way.in_day)), "run": -1, **told})
    return rows


def cost_curve(answer: EnquiryAnswer, base: Base, look: Look) -> alt.LayerChart:
    """Return the chart of one answer: the cheapest slot of each week, and the price offered."""
    rows = curve_rows(answer, base)
    layers = _price(answer, base, look)
    if answer.slots:
        layers.append(_line(rows, base, look))
    if any(row["cost"] is not None for row in rows):
        layers += [_points(rows, base, look), *_cheapest(rows, base, look)]
    if any(row["cost"] is None for row in rows):
        layers.append(_no_slot(rows, base, look))
    return styled(alt.layer(*layers), look, HEIGHT_PIXELS)


def _week(week: str) -> dict[str, object]:
    monday, sunday = week_dates(week)
    return {
        "week": week,
        "monday": f"{monday.day} {monday:%b %Y}",
        "dates": f"{day(monday)} to {day(sunday)}",
    }


def _slot(price: WeekPrice, base: Base) -> dict[str, object]:
    slot = price.slot
    if slot is None:
        return {"kind": NO_SLOT, "cost": None, "told": NO_SLOT, "stay": NO_SLOT}
    over = slot.costs.overload >= LEAST_MONEY
    return _told(SLOT_OVERLOADS if over else SLOT, slot.cost, slot.placements, base)


def _told(kind: str, cost: float, placements: Sequence[Placement], base: Base) -> dict[str, object]:
    told = lowest_price(cost, base)
    return {"kind": kind, "cost": cost, "told": told, "stay": stay_in_words(placements)}


def _weeks(rows: list[Row]) -> alt.X:
    # Weeks stand in order of time, also where others moved to one beyond the window.
    names = {str(row["week"]): str(row["monday"]) for row in rows}
    axis = alt.Axis(title="comes in, week from Monday", labelAngle=0, labelOverlap=True)
    return alt.X("monday:N", sort=[names[week] for week in sorted(names)], axis=axis)


def _money(base: Base) -> alt.Y:
    axis = alt.Axis(title=f"break-even price ({base.currency})", format=",.0f", tickCount=6)
    return alt.Y("cost:Q", axis=axis, scale=alt.Scale(zero=True))


def _line(rows: list[Row], base: Base, look: Look) -> Any:
    beside = [row for row in rows if row["kind"] in (SLOT, SLOT_OVERLOADS)]
    return (
        alt.Chart(rows_of(beside))
        .mark_line(strokeWidth=2, color=look.quiet)
        .encode(x=_weeks(rows), y=_money(base), detail="run:N", order="week:O")
    )


def colours_of(look: Look) -> tuple[str, str, str, str]:
    """Return the colours of ``KINDS``."""
    return (look.ink, OVERLOAD.fill, look.quiet, look.quiet)


def _kinds(look: Look) -> dict[str, Any]:
    """Tell the kinds apart by colour and shape; both share one legend."""
    legend = alt.Legend(title=None, labelLimit=LONGEST_LABEL_PIXELS, columns=LEGEND_COLUMNS)
    return {
        "color": alt.Color(
            "kind:N",
            scale=alt.Scale(domain=list(KINDS), range=list(colours_of(look))),
            legend=legend,
        ),
        "shape": alt.Shape(
            "kind:N", scale=alt.Scale(domain=list(KINDS), range=list(SHAPES)), legend=legend
        ),
    }


def _tips() -> list[alt.Tooltip]:
    return [
        tip("week", "Week"),
        tip("dates", "Comes in"),
        tip("kind", "Slot"),
        tip("stay", "Cheapest"),
        tip("told", "Break-even price"),
    ]


def _points(rows: list[Row], base: Base, look: Look) -> Any:
    slots = [row for row in rows if row["cost"] is not None]
    return (
        alt.Chart(rows_of(slots))
        .mark_point(size=110, filled=True, opacity=1)
        .encode(x=_weeks(rows), y=_money(base), **_kinds(look), tooltip=_tips())
    )


def _no_slot(rows: list[Row], base: Base, look: Look) -> Any:
    none = [row for row in rows if row["cost"] is None]
    return (
        alt.Chart(rows_of(none))
        .mark_point(size=90, filled=True, opacity=1)
        .encode(
            x=_weeks(rows),
            y=alt.value({"expr": NO_SLOT_AT}),
            **_kinds(look),
            tooltip=_tips(),
        )
    )


def _cheapest(rows: list[Row], base: Base, look: Look) -> list[Any]:
    """Print the lowest price at its week, the first where several weeks have the same."""
    slots = [row for row in rows if row["cost"] is not None]
    best = sorted(slots, key=lambda row: (float(str(row["cost"])), str(row["week"])))[:1]
    chart = alt.Chart(rows_of([{**row, "label": f"{row['told']}"} for row in best])).encode(
        x=_weeks(rows), y=_money(base), text="label:N"
    )
    text: dict[str, Any] = {"dy": -16, "fontSize": 12, "fontWeight": "bold"}
    behind = chart.mark_text(**text, stroke=look.paper, strokeWidth=5, color=look.paper)
    return [behind, chart.mark_text(**text, color=look.ink)]


def _price(answer: EnquiryAnswer, base: Base, look: Look) -> list[Any]:
    """Draw the price offered as a dashed line with its name; nothing where none is offered."""
    price = answer.enquiry.price
    if price <= 0:
        return []
    chart = alt.Chart(rows_of([{"cost": price, "label": f"price offered: {money(price, base)}"}]))
    line = chart.mark_rule(strokeDash=[8, 4], strokeWidth=2, color=look.ink).encode(y=_money(base))
    text: dict[str, Any] = {"align": "left", "baseline": "bottom", "dx": 4, "dy": -4}
    word = chart.encode(x=alt.value(0), y=_money(base), text="label:N")
    behind = word.mark_text(**text, stroke=look.paper, strokeWidth=5, color=look.paper)
    return [line, behind, word.mark_text(**text, color=look.ink)]
