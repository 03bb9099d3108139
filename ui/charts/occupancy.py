"""Bay occupancy: a row a bay, and in it a block for each check with its stages."""

import json
from collections.abc import Sequence
from typing import Any

import altair as alt

from capacity.reports.plan.blocked_days import FLOOR_TAKEN, WAY_BLOCKED
from capacity.words.marks import SQUARE
from capacity.words.palette import (
    CLOSED,
    GREY,
    OPTION,
    OWN_FLEET,
    THIRD_PARTY,
    WHITE,
    Hatching,
    Paint,
)
from ui.charts.common import PICK, day_tip, moment, rows_of, styled, tip, week_axis
from ui.days import at
from ui.legend import Swatch
from ui.look import Look
from ui.planner.bay_rows import BLOCK_LANE, NO_SLOT, WHOSE, Occupancy
from ui.rows import Row

ROW_PIXELS, AXIS_PIXELS = 64, 60
LONGEST_BAY_NAME = 24
FOOT = 0.35
AS_WIDE_AS_ITS_DAYS = alt.ExprRef(
    "max(1, scale('x', toDate(datum.until)) - scale('x', toDate(datum.from)) - 8)"
)
"""How many pixels a label has: it ends in an ellipsis there, however wide the page is."""

OTHER_WORK = "other work"
IS_OPTION = f"datum.whose === '{OPTION.word}'"
BLOCKED = Paint("not free", WHITE, hatching=Hatching.RISING, lines=GREY)
"""Empty, and yet not free: drawn by broken lines within a broken edge."""

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
        *_blocked(occupancy, look),
        *_waiting(occupancy, look),
        _blocks(occupancy, look),
        _option_lines(occupancy),
        *_labels(occupancy, look),
        _stages(occupancy, look),
        _late_edges(occupancy, look),
        *_due(occupancy, look),
    ]
    height = ROW_PIXELS * len(occupancy.bays) + AXIS_PIXELS
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
        values=[row + 0.3 for row in range(rows)],
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


def _over_days(occupancy: Occupancy) -> dict[str, Any]:
    """Return where a box or a line lies: from a day until another, within the row of a bay."""
    return {
        "x": _days("from"),
        "x2": alt.X2("until"),
        "y": _bays("y0", occupancy),
        "y2": alt.Y2("y1"),
    }


def _row_rules(occupancy: Occupancy, look: Look) -> Any:
    lines = [{"y": row} for row in range(len(occupancy.bays) + 1)]
    return alt.Chart(rows_of(lines)).mark_rule(color=look.rule).encode(y=_bays("y", occupancy))


def _closures(occupancy: Occupancy, look: Look) -> list[Any]:
    box = (
        alt.Chart(rows_of(occupancy.closures))
        .mark_rect(fill=look.paper, stroke=look.quiet, strokeWidth=1)
        .encode(
            **_over_days(occupancy),
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
        .encode(**_over_days(occupancy))
    )
    return [box, lines, *_words_over_lines(occupancy.closures, occupancy, look)]


def _words_over_lines(rows: Sequence[Row], occupancy: Occupancy, look: Look) -> list[Any]:
    """Draw labels that can be read over slanted lines, no longer than their days are wide."""
    text: dict[str, Any] = {
        "align": "left",
        "dx": 4,
        "dy": 12,
        "baseline": "middle",
        "color": look.ink,
        "fontStyle": "italic",
        "limit": AS_WIDE_AS_ITS_DAYS,
    }
    words = (
        alt.Chart(rows_of(rows))
        .mark_text(**text, stroke=look.paper, strokeWidth=3, strokeJoin="round")
        .encode(x=_days("from"), y=_bays("y0", occupancy), text=alt.Text("label:N"))
    )
    return [words, words.mark_text(**text)]


def _blocked(occupancy: Occupancy, look: Look) -> list[Any]:
    """Draw the days on which a bay is empty and yet not free, and by whom."""
    kinds = [FLOOR_TAKEN, WAY_BLOCKED]
    box = (
        alt.Chart(rows_of(occupancy.blocked))
        .mark_rect(fill=look.paper, stroke=look.quiet, strokeWidth=1.2)
        .encode(
            **_over_days(occupancy),
            strokeDash=alt.StrokeDash(
                "kind:N",
                title="Empty, not free",
                scale=alt.Scale(domain=kinds, range=[[7, 3], [2, 2]]),
                legend=None,
            ),
            tooltip=[
                tip("bay", "Bay"),
                tip("kind", "Not free"),
                tip("by", "By"),
                day_tip("from", "From"),
                day_tip("last", "To, included"),
            ],
        )
    )
    lines = (
        alt.Chart(rows_of(occupancy.blocked_lines))
        .mark_rule(color=look.quiet, strokeWidth=0.8, strokeDash=[3, 3], tooltip=None)
        .encode(**_over_days(occupancy))
    )
    if not occupancy.blocked:
        return []
    return [box, lines, *_words_over_lines(occupancy.blocked, occupancy, look)]


def _waiting(occupancy: Occupancy, look: Look) -> list[Any]:
    """Draw the checks without a slot, each over the days on which it could come in."""
    if not occupancy.waiting:
        return []
    box = (
        alt.Chart(rows_of(occupancy.waiting))
        .mark_rect(fill=look.paper, stroke=look.ink, strokeWidth=2, strokeDash=[5, 3])
        .encode(
            **_over_days(occupancy),
            tooltip=[
                tip("check", "Check"),
                tip("slot", "Slot"),
                tip("aircraft", "Aircraft"),
                tip("package", "Package"),
                tip("customer", "Customer"),
                tip("status", "Status"),
                tip("earliest", "Earliest in"),
                tip("latest", "Latest in"),
            ],
        )
    )
    middle = (BLOCK_LANE[1] - BLOCK_LANE[0]) / 2
    rows = [{**row, "y": float(str(row["y0"])) + middle} for row in occupancy.waiting]
    words = (
        alt.Chart(rows_of(rows))
        .mark_text(align="left", baseline="middle", dx=4, fontWeight="bold", color=look.ink)
        .encode(x=_days("words_at"), y=_bays("y", occupancy), text=alt.Text("label:N"))
    )
    return [box, words]


def _late_edges(occupancy: Occupancy, look: Look) -> Any:
    """Draw a thick right edge where a check is out late."""
    rows = [row for row in occupancy.blocks if row["is_late"]]
    return (
        alt.Chart(rows_of(rows))
        .mark_rule(color=look.ink, strokeWidth=6, aria=False)
        .encode(x=_days("until"), y=_bays("y0", occupancy), y2=alt.Y2("y1"))
    )


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
                scale=alt.Scale(
                    domain=[paint.word for paint in WHOSE],
                    range=[look.ground(paint) for paint in WHOSE],
                ),
                legend=None,
            ),
            stroke=alt.condition(IS_OPTION, alt.value(OPTION.lines), alt.value(look.ink)),
            strokeDash=alt.condition(IS_OPTION, alt.value([5, 3]), alt.value([1, 0])),
            strokeWidth=alt.condition("datum.is_fixed", alt.value(3), alt.value(1)),
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


def _option_lines(occupancy: Occupancy) -> Any:
    """Draw the lines of the options, upon whose white their words are read."""
    return (
        alt.Chart(rows_of(occupancy.option_lines))
        .mark_rule(color=OPTION.lines, strokeWidth=1, tooltip=None, aria=False)
        .encode(**_over_days(occupancy))
    )


def _labels(occupancy: Occupancy, look: Look) -> list[Any]:
    """Draw the words on the blocks; those of options have a rim, so that no line crosses them."""
    grounds = {paint.word: paint for paint in WHOSE}
    middle = (BLOCK_LANE[1] - BLOCK_LANE[0]) / 2
    rows = [
        {
            "from": row["from"],
            "until": row["until"],
            "y": float(str(row["y0"])) + middle,
            "label": row["label"],
            "is_past": row["is_past"],
            "whose": row["whose"],
            "ink": look.ink_on(grounds[str(row["whose"])]),
        }
        for row in occupancy.blocks
    ]
    text: dict[str, Any] = {
        "align": "left",
        "baseline": "middle",
        "dx": 5,
        "fontSize": 12,
        "aria": False,
        "fontWeight": alt.ExprRef("datum.is_past ? 'bold' : 'normal'"),
        "limit": AS_WIDE_AS_ITS_DAYS,
    }
    words = (
        alt.Chart(rows_of(rows))
        .mark_text(**text)
        .encode(
            x=_days("from"),
            y=_bays("y", occupancy),
            text=alt.Text("label:N"),
            color=alt.Color("ink:N", scale=None),
        )
    )
    options = [row for row in rows if row["whose"] == OPTION.word]
    rim = (
        alt.Chart(rows_of(options))
        .mark_text(**text, stroke=look.paper, strokeWidth=4, strokeJoin="round")
        .encode(x=_days("from"), y=_bays("y", occupancy), text=alt.Text("label:N"))
    )
    return [rim, words]


def _stages(occupancy: Occupancy, look: Look) -> Any:
    """Draw the strips. There are thousands in a year, so each has no more than it shows.

    Their dates come as words, and no words are made for a screen reader, which has the table
    of the stages behind each block: both would be made anew for every strip, in the browser.
    """
    named = named_works(occupancy, look)
    others = len(occupancy.works) > len(named)
    rows = [
        {**{field: row[field] for field in STRIP}, "colour": _colour(str(row["work"]), named)}
        for row in occupancy.stages
    ]
    domain = [*named, OTHER_WORK] if others else list(named)
    colours = list(look.works[: len(domain)])
    return (
        alt.Chart(rows_of(rows))
        .mark_rect(stroke=look.quiet, strokeWidth=0.8, cursor="pointer", aria=False)
        .encode(
            **_over_days(occupancy),
            color=alt.Color("colour:N", scale=alt.Scale(domain=domain, range=colours), legend=None),
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


def named_works(occupancy: Occupancy, look: Look) -> tuple[str, ...]:
    """Return the kinds of work that have a grey of their own."""
    most = len(look.works)
    return occupancy.works if len(occupancy.works) <= most else occupancy.works[: most - 1]


def occupancy_legend(occupancy: Occupancy, look: Look) -> list[tuple[str, list[Swatch]]]:
    """Return the legends of the chart, each with its title."""
    named = named_works(occupancy, look)
    greys = [*named, *([OTHER_WORK] if len(occupancy.works) > len(named) else [])]
    return [
        (
            "Checks",
            [
                Swatch(OWN_FLEET.word, OWN_FLEET),
                Swatch(f"{THIRD_PARTY.word}, with its name", THIRD_PARTY),
                Swatch(OPTION.word, OPTION),
                Swatch("bay and day are fixed", sign=SQUARE, edge_pixels=3),
                Swatch("late out", right_edge_pixels=6),
                Swatch(NO_SLOT, dashes="5,3", edge_pixels=2),
            ],
        ),
        (
            "Bays",
            [
                Swatch(CLOSED.word, CLOSED),
                Swatch(FLOOR_TAKEN, BLOCKED, dashes="7,3"),
                Swatch(WAY_BLOCKED, BLOCKED, dashes="2,2"),
            ],
        ),
        (
            "Stages",
            [Swatch(w, colour=c) for w, c in zip(greys, look.works, strict=False)],
        ),
    ]


def _colour(work: str, named: Sequence[str]) -> str:
    return work if work in named else OTHER_WORK


def _due(occupancy: Occupancy, look: Look) -> list[Any]:
    base = alt.Chart(rows_of(occupancy.due))
    y = _bays("y", occupancy)
    line = base.mark_rule(color=look.quiet, strokeWidth=1.5, aria=False).encode(
        x=_days("out"), x2=alt.X2("mark"), y=y
    )
    late = "datum.verdict === 'late out'"
    colour = alt.condition(late, alt.value(look.ink), alt.value(look.quiet))
    mark = base.mark_rule(strokeWidth=3).encode(
        x=_days("mark"),
        y=_bays("y0", occupancy),
        y2=alt.Y2("y1"),
        color=colour,
        tooltip=[
            tip("check", "Check"),
            day_tip("agreed", "Agreed out"),
            day_tip("out", "Out"),
            tip("told", "So"),
        ],
    )
    words = base.mark_text(align="left", baseline="middle", dx=6, fontSize=11, aria=False).encode(
        x=_days("words_at"), y=y, text=alt.Text("label:N"), color=colour
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
