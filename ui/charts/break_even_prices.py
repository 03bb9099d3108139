"""Several enquiries below each other: the price offered against the break-even price of each."""

from collections.abc import Sequence
from typing import Any

import altair as alt

from capacity.facts import Base
from capacity.questions.enquiries.values import EnquiryAnswer
from capacity.reports.enquiries.ways import NOBODY_MOVED, OTHERS_MOVED, ways_of
from capacity.reports.enquiries.wording import verdict
from ui.charts.common import number_tip, rows_of, styled, tip
from ui.look import Look
from ui.rows import Row

ROW_PIXELS, LEGEND_PIXELS, LONGEST_LABEL_PIXELS = 34, 140, 320

PRICE = "price offered"
BREAK_EVEN = f"break-even price, {NOBODY_MOVED}"
BREAK_EVEN_MOVED = f"break-even price, {OTHERS_MOVED}"
MARKS = (PRICE, BREAK_EVEN, BREAK_EVEN_MOVED)
SHAPES = ("cross", "circle", "diamond")
"""A shape a mark, so that they are told apart in grey too."""

NAMES = {NOBODY_MOVED: BREAK_EVEN, OTHERS_MOVED: BREAK_EVEN_MOVED}


def price_rows(answers: Sequence[EnquiryAnswer]) -> list[Row]:
    """Return a row a mark: the price of each enquiry, and its break-even price in each way."""
    rows: list[Row] = []
    for answer in answers:
        told = {"enquiry": answer.enquiry.name, "line": line_of(answer)}
        if answer.enquiry.price > 0:
            rows.append({**told, "mark": PRICE, "amount": answer.enquiry.price})
        for way in ways_of(answer):
            rows.append({**told, "mark": NAMES[way.name], "amount": way.lowest_price})
    return rows


def line_of(answer: EnquiryAnswer) -> str:
    """Return what stands beside the line of an enquiry: its name and the verdict on it."""
    return f"{answer.enquiry.name}: {verdict(answer).value}"


def prices_chart(answers: Sequence[EnquiryAnswer], base: Base, look: Look) -> alt.LayerChart:
    """Return the chart, a line an enquiry in the order in which they were asked about."""
    rows = price_rows(answers)
    lines = [line_of(answer) for answer in answers]
    height = ROW_PIXELS * len(lines) + LEGEND_PIXELS
    layers = alt.layer(_spans(rows, lines, look), _marks(rows, lines, base, look))
    return styled(layers, look, height)


def colours_of(look: Look) -> tuple[str, str, str]:
    """Return the colours of ``MARKS``."""
    return (look.ink, look.ink, look.quiet)


def _enquiries(lines: list[str]) -> alt.Y:
    """Give every enquiry its line, also one without a price and a slot."""
    return alt.Y(
        "line:N",
        scale=alt.Scale(domain=lines),
        axis=alt.Axis(title=None, labelLimit=LONGEST_LABEL_PIXELS, grid=False),
    )


def _spans(rows: list[Row], lines: list[str], look: Look) -> Any:
    return (
        alt.Chart(rows_of(rows))
        .mark_rule(strokeWidth=2, color=look.rule)
        .encode(y=_enquiries(lines), x="min(amount):Q", x2="max(amount):Q")
    )


def _marks(rows: list[Row], lines: list[str], base: Base, look: Look) -> Any:
    return (
        alt.Chart(rows_of(rows))
        .mark_point(size=130, filled=True, opacity=1)
        .encode(
            y=_enquiries(lines),
            x=alt.X(
                "amount:Q",
                title=base.currency,
                axis=alt.Axis(format=",.0f", tickCount=8),
                scale=alt.Scale(zero=True),
            ),
            color=alt.Color(
                "mark:N",
                title=None,
                scale=alt.Scale(domain=list(MARKS), range=list(colours_of(look))),
                legend=alt.Legend(labelLimit=LONGEST_LABEL_PIXELS, columns=1),
            ),
            shape=alt.Shape(
                "mark:N",
                title=None,
                scale=alt.Scale(domain=list(MARKS), range=list(SHAPES)),
                legend=alt.Legend(labelLimit=LONGEST_LABEL_PIXELS, columns=1),
            ),
            tooltip=[
                tip("line", "Enquiry"),
                tip("mark", "What"),
                number_tip("amount", f"Price ({base.currency})", ",.2f"),
            ],
        )
    )
