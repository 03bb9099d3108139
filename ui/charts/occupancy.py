"""Bay occupancy: a row a bay, and in it a block a check with its stages."""

import json
from collections.abc import Sequence
from typing import Any

import altair as alt

from ui.bay_rows import BLOCK_LANE, Occupancy
from ui.charts.common import PICK, at, day_tip, moment, rows_of, styled, tip, week_axis
from ui.look import Look

ROW_PIXELS, LEGEND_PIXELS = 50, 120
LONGEST_BAY_NAME = 24
FOOT = 0.35
OTHER_WORK = "other work"
STRIP = (
    "check", "stage", "work", "alone", "from", "until", "first_told", "last_told", "y0", "y1",
)  # fmt: skip
"""What the strip of a stage needs of its row."""


def occupancy_chart(occupancy: Occupancy, look: Look) -> alt.LayerChart:
    """Return the chart; a click on a check is told as ``pick``, with the field ``check``."""
    layers = [
        _row_rules(occupancy, look),
        *_beginning(occupancy, look),
        *_closures(occupancy, look),
        _blocks(occupancy, look),
        _labels(occupancy, look),
        _stages(occupancy, look),
        *_due(occupancy, look),
    ]
    height = ROW_PIXELS * len(occupancy.bays) + LEGEND_PIXELS
    return styled(alt.layer(*layers), look, height)


def _days(field: str) -> alt.X:
    """Return a place in time; the layers share the scale and axis of the blocks."""
    return alt.X(field, type="temporal")


def _all_days(field: str, occupancy: Occupancy) -> alt.X:
    domain = [moment(occupancy.first), moment(occupancy.last)]
    axis = week_axis(occupancy.mondays, "")
    axis.title, axis.orient, axis.grid = None, "top", True
    return alt.X(field, type="temporal", scale=alt.Scale(domain=domain), axis=axis)


def _bays(field: str, occupancy: Occupancy) -> alt.Y:
    rows = len(occupancy.bays)
    names = [_cut(name) for name in occupancy.bays]
    axis = alt.Axis(
        title=None,
        values=[row + 0.45 for row in range(rows)],
        # As literals of texts, so that no name can be taken for a part of the expression.
        labelExpr=f"{json.dumps(names)}[floor(datum.value)]",
        labelLimit=180,
        grid=False,
        ticks=False,
        domain=False,
    )
    foot = FOOT if occupancy.begins else 0.0
    scale = alt.Scale(domain=[0, rows + foot], reverse=True, nice=False, zero=False)
    return alt.Y(field, type="quantitative", scale=scale, axis=axis)


def _cut(name: str) -> str:
    return name if len(name) <= LONGEST_BAY_NAME else f"{name[: LONGEST_BAY_NAME - 1]}…"


def _row_rules(occupancy: Occupancy, look: Look) -> Any:
    lines = [{"y": row} for row in range(len(occupancy.bays) + 1)]
    return alt.Chart(rows_of(lines)).mark_rule(color=look.rule).encode(y=_bays("y", occupancy))


def _closures(occupancy: Occupancy, look: Look) -> list[Any]:
    box = (
        alt.Chart(rows_of(occupancy.closures))
        .mark_rect(fill=look.paper, stroke=look.quiet, strokeWidth=1)
        .encode(
            x=_days("from"),
            x2=alt.X2("until"),
            y=_bays("y0", occupancy),
            y2=alt.Y2("y1"),
            tooltip=[
                tip("bay", "Closed"),
                day_tip("first", "From"),
                day_tip("last", "To, included"),
                tip("reason", "Reason"),
            ],
        )
    )
    lines = (
        alt.Chart(rows_of(occupancy.closure_lines))
        .mark_rule(color=look.quiet, strokeWidth=1, tooltip=None)
        .encode(x=_days("from"), x2=alt.X2("until"), y=_bays("y0", occupancy), y2=alt.Y2("y1"))
    )
    words = (
        alt.Chart(rows_of(occupancy.closures))
        .mark_text(
            align="left", dx=4, dy=12, baseline="middle", color=look.ink, fontStyle="italic",
            stroke=look.paper, strokeWidth=3, strokeJoin="round",
        )
        .encode(x=_days("from"), y=_bays("y0", occupancy), text=alt.Text("label:N"))
    )  # fmt: skip
    return [box, lines, words, words.mark_text(
        align="left", dx=4, dy=12, baseline="middle", color=look.ink, fontStyle="italic"
    )]  # fmt: skip


def _blocks(occupancy: Occupancy, look: Look) -> Any:
    pick = alt.selection_point(name=PICK, fields=["check"], on="click")
    return (
        alt.Chart(rows_of(occupancy.blocks))
        .mark_rect(cursor="pointer", cornerRadius=2)
        .encode(
            x=_all_days("from", occupancy),
            x2=alt.X2("until"),
            y=_bays("y0", occupancy),
            y2=alt.Y2("y1"),
            fill=alt.Fill(
                "whose:N",
                title="Aircraft",
                scale=alt.Scale(
                    domain=["own fleet", "third party"], range=[look.own, look.third_party]
                ),
                legend=alt.Legend(symbolStrokeColor=look.quiet, symbolType="square"),
            ),
            stroke=alt.value(look.ink),
            strokeWidth=alt.condition("datum.is_fixed", alt.value(2.5), alt.value(0.8)),
            opacity=alt.condition(pick, alt.value(1.0), alt.value(0.35)),
            tooltip=[
                tip("check", "Check"),
                tip("aircraft", "Aircraft"),
                tip("package", "Package"),
                tip("customer", "Customer"),
                tip("status", "Status"),
                tip("bay", "Bay"),
                day_tip("from", "In"),
                day_tip("until", "Out"),
                tip("stay", "In this bay"),
                tip("past", "Past Latest in"),
            ],
        )
        .add_params(pick)
    )


def _labels(occupancy: Occupancy, look: Look) -> Any:
    shown = [row for row in occupancy.blocks if row["label"]]
    middle = (BLOCK_LANE[1] - BLOCK_LANE[0]) / 2
    rows = [
        {"from": row["from"], "y": float(str(row["y0"])) + middle, "label": row["label"]}
        for row in shown
    ]
    return (
        alt.Chart(rows_of(rows))
        .mark_text(align="left", baseline="middle", dx=4, fontSize=12, color=look.ink, aria=False)
        .encode(x=_days("from"), y=_bays("y", occupancy), text=alt.Text("label:N"))
    )


def _stages(occupancy: Occupancy, look: Look) -> Any:
    """Draw the strips. There are thousands in a year, so each has no more than it shows.

    Their dates come as words, and no words are made for a screen reader, which has the table
    of the stages behind each block: both would be made anew for every strip, in the browser.
    """
    named = occupancy.works[: len(look.stages)]
    others = len(occupancy.works) > len(named)
    rows = [
        {**{field: row[field] for field in STRIP}, "colour": _colour(str(row["work"]), named)}
        for row in occupancy.stages
    ]
    domain = [*named, OTHER_WORK] if others else list(named)
    colours = [*look.stages[: len(named)], look.other_work][: len(domain)]
    return (
        alt.Chart(rows_of(rows))
        .mark_rect(stroke=look.paper, strokeWidth=1.2, cursor="pointer", aria=False)
        .encode(
            x=_days("from"),
            x2=alt.X2("until"),
            y=_bays("y0", occupancy),
            y2=alt.Y2("y1"),
            color=alt.Color(
                "colour:N", title="Stages of", scale=alt.Scale(domain=domain, range=colours)
            ),
            tooltip=[
                tip("check", "Check"),
                tip("stage", "Stage"),
                tip("work", "Kind of work"),
                tip("first_told", "From"),
                tip("last_told", "To, included"),
                tip("alone", "Nobody else on the aircraft"),
            ],
        )
    )


def _colour(work: str, named: Sequence[str]) -> str:
    return work if work in named else OTHER_WORK


def _due(occupancy: Occupancy, look: Look) -> list[Any]:
    base = alt.Chart(rows_of(occupancy.due))
    y = _bays("y", occupancy)
    line = base.mark_rule(color=look.quiet, strokeWidth=1.5, aria=False).encode(
        x=_days("out"), x2=alt.X2("mark"), y=y
    )
    is_late, quiet = alt.value(look.late), alt.value(look.quiet)
    mark = base.mark_point(filled=True, size=60, opacity=1).encode(
        x=_days("mark"),
        y=y,
        color=alt.condition("datum.verdict === 'out late'", is_late, quiet),
        shape=alt.Shape(
            "verdict:N",
            title="Agreed out",
            scale=alt.Scale(domain=["out as agreed", "out late"], range=["diamond", "triangle-up"]),
            legend=alt.Legend(symbolFillColor=look.quiet, symbolStrokeWidth=0),
        ),
        tooltip=[
            tip("check", "Check"),
            day_tip("agreed", "Agreed out"),
            day_tip("out", "Out"),
            tip("told", "So"),
        ],
    )
    late = [
        {"out": row["out"], "y": row["y"], "label": row["label"]}
        for row in occupancy.due
        if row["label"]
    ]
    words = (
        alt.Chart(rows_of(late))
        .mark_text(
            align="left",
            baseline="middle",
            dx=8,
            color=look.late,
            fontWeight="bold",
            fontSize=11,
            aria=False,
        )
        .encode(x=_days("out"), y=y, text=alt.Text("label:N"))
    )
    return [line, mark, words]


def _beginning(occupancy: Occupancy, look: Look) -> list[Any]:
    """Draw where the plan begins, when aircraft are in from before."""
    begins, bays = occupancy.begins, len(occupancy.bays)
    rows = [{"day": at(begins), "y": bays + FOOT, "label": "plan begins"}] if begins else []
    base = alt.Chart(rows_of(rows)).encode(x=_days("day"))
    line = base.mark_rule(color=look.ink, strokeDash=[4, 4], strokeWidth=1.2)
    word = base.mark_text(
        align="right", baseline="bottom", dx=-4, fontSize=11, color=look.quiet
    ).encode(y=_bays("y", occupancy), text=alt.Text("label:N"))
    return [line, word]
