"""Sheets of the cost of an enquiry against its week in: the figures, and a native chart each."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from capacity.facts import Base
from capacity.questions.asking.differences import Costs
from capacity.questions.enquiries.values import EnquiryAnswer, Slot
from capacity.reports.kit import formats
from capacity.reports.kit.charts import COLUMNS_APART, ROWS_APART, finish
from capacity.reports.kit.formats import DATE, MONEY, WRAPPED, Look
from capacity.reports.kit.sheet import A3, Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.kit.week_column import monday_column
from capacity.reports.plan.stay_columns import bays
from capacity.words import LEAST_MONEY
from capacity.words.marks import TRIANGLE

CURVE, CHARTS = "Cost by week", "Cost charts"

WEEK_IN, PRICE = "Week in", "Price offered"

STACKED: tuple[tuple[str, str, Look], ...] = (
    ("Overtime", "overtime", formats.CHART_OVERTIME),
    ("Contract", "contract", formats.CHART_CONTRACT),
    ("Overload", "overload", formats.CHART_OVERLOAD),
    ("Unused interval", "unused interval", formats.CHART_UNUSED_INTERVAL),
    ("Late out", "days late out", formats.CHART_LATE_OUT),
)


@dataclass(frozen=True, slots=True)
class _Week:
    """A week of an enquiry's window with its cheapest place; ``price`` is what is offered."""

    enquiry: str
    price: float
    week: str
    slot: Slot | None

    @property
    def costs(self) -> Costs | None:
        """Return the costs of the cheapest place by kind."""
        return None if self.slot is None else self.slot.costs


def curve_sheets(book: Book, answers: Sequence[EnquiryAnswer], base: Base) -> None:
    """Add the sheet of the figures and that of the charts."""
    columns = _columns(base)
    rows = [
        _Week(answer.enquiry.name, answer.enquiry.price, price.week, price.slot)
        for answer in answers
        for price in answer.curve
    ]
    write_sheet_table(book.sheet(CURVE, paper=A3), columns, rows, frozen_columns=2)
    sheet = book.sheet(CHARTS, upright=True)
    sheet.hide_gridlines()
    sheet.write(0, 0, "Lowest cost of an enquiry, by the week in which it comes in", formats.TITLE)
    sheet.write(
        1,
        0,
        "No other check moved. Cost is what the enquiry adds to the cost of the plan, its price "
        "left out. A week without a column has no slot, or costs nothing: see Cost by week.",
        {**formats.NOTE, "text_wrap": False},
    )
    drawn = [answer for answer in answers if answer.curve]
    first = 1
    for number, answer in enumerate(drawn):
        last = first + len(answer.curve) - 1
        row, column = divmod(number, 2)
        chart = _chart(book, base, first, last, with_price=answer.enquiry.price > 0)
        sheet.insert_chart(3 + ROWS_APART * row, COLUMNS_APART * column, chart)
        first = last + 1


def _chart(book: Book, base: Base, first: int, last: int, *, with_price: bool) -> Any:
    """Return the chart of the enquiry whose weeks stand in rows ``first`` to ``last``."""
    headings = [column.heading for column in _columns(base)]
    weeks = headings.index(WEEK_IN)

    def series(heading: str, name: str) -> dict[str, object]:
        values = headings.index(heading)
        return {
            "name": name,
            "categories": [CURVE, first, weeks, last, weeks],
            "values": [CURVE, first, values, last, values],
        }

    chart = book.chart("column", "stacked")
    for kind, name, look in STACKED:
        heading = _with_currency(kind, base)
        chart.add_series({**series(heading, name), **look, "gap": 40})
    if with_price:
        line = book.chart("line")
        heading = _with_currency(PRICE, base)
        line.add_series({**series(heading, "price offered"), "line": formats.CHART_DASHED_LINE})
        chart.combine(line)
    amounts = f"cost of the cheapest slot ({base.currency})"
    return finish(chart, [CURVE, first, 0], "ISO week in", amounts)


def _columns(base: Base) -> tuple[Column[_Week], ...]:
    def amount(kind: str, value: Callable[[Costs], float]) -> Column[_Week]:
        heading = _with_currency(kind, base)
        return Column(heading, lambda w: w.costs and value(w.costs), MONEY, width=14)

    return (
        Column("Enquiry", lambda w: w.enquiry, width=20),
        Column(WEEK_IN, lambda w: w.week, width=11),
        monday_column(lambda w: w.week),
        Column("Bay", lambda w: bays(w.slot.placements) if w.slot else None, WRAPPED, width=16),
        Column("In", lambda w: w.slot.in_day if w.slot else None, DATE, width=17),
        Column("Out", lambda w: w.slot.out_day if w.slot else None, DATE, width=17),
        amount("Overtime", lambda c: c.overtime),
        amount("Contract", lambda c: c.contract),
        amount("Overload", lambda c: c.overload),
        amount("Unused interval", lambda c: c.early),
        amount("Late out", lambda c: c.late),
        amount("Cost: the break-even price", lambda c: c.money),
        Column(_with_currency(PRICE, base), lambda w: w.price or None, MONEY, width=14),
        Column("Remarks", _remarks, width=30),
    )


def _remarks(week: _Week) -> str | None:
    if week.slot is None:
        return "no slot unless others move"
    said = [f"{TRIANGLE} overload"] if week.slot.costs.overload >= LEAST_MONEY else []
    if week.slot.late_days:
        said.append("late out")
    if 0 < week.price < week.slot.cost - LEAST_MONEY:
        said.append("not worth it")
    return ", ".join(said) or None


def _with_currency(heading: str, base: Base) -> str:
    return f"{heading} ({base.currency})"
