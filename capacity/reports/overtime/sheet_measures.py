"""The sheet ``Measures``: what would take overtime away, tried on the plan and ranked."""

from dataclasses import dataclass

from capacity.facts import Base
from capacity.questions.overtime.measures import Figures, Measure, Measures
from capacity.reports.kit.formats import (
    HOURS_OR_DASH,
    MONEY,
    MONEY_OR_DASH,
    NOTE,
    SECTION,
    TITLE,
    WHOLE_OR_DASH,
    WRAPPED,
)
from capacity.reports.kit.sheet import A3, Book, Sheet
from capacity.reports.kit.table import Column, write_table
from capacity.reports.overtime.wording import (
    COMPARED,
    PRICES_MISSING,
    how_tried,
    proof,
    remark,
    tried_in_words,
)
from capacity.words import LEAST_MONEY

SHEET = "Measures"


@dataclass(frozen=True, slots=True)
class _Ranked:
    """A measure with its rank, from 1 on, and the figures that it is compared with."""

    rank: int
    measure: Measure
    before: Figures

    @property
    def days_less(self) -> int:
        return self.before.days_past - self.measure.after.days_past

    @property
    def overload_less(self) -> float:
        return self.before.overload_hours - self.measure.after.overload_hours


def measures_sheet(book: Book, measures: Measures, base: Base) -> None:
    """Add the sheet: the measures by effect, what they are compared with, what was not tried."""
    sheet, columns = book.sheet(SHEET, paper=A3), _measure_columns(base)
    sheet.widths([column.width for column in columns])
    sheet.write(0, 0, "What would take overtime away", TITLE)
    sentences = (tried_in_words(measures), COMPARED, PRICES_MISSING)
    for row, sentence in enumerate(sentences, start=1):
        sheet.write(row, 0, sentence, {**NOTE, "text_wrap": False})
    ranked = [
        _Ranked(rank, measure, measures.compared_with(measure))
        for rank, measure in enumerate(measures.measures, start=1)
    ]
    row = write_table(sheet, 2 + len(sentences), columns, ranked)
    _section(sheet, row + 1, "What they are compared with", len(columns))
    row = write_table(sheet, row + 2, _figure_columns(base), _figures(measures))
    for title, listed in (
        ("Tried, but not possible in this plan", measures.no_place),
        ("Not tried: it was stopped", measures.not_tried),
    ):
        if listed:
            _section(sheet, row + 1, title, len(columns))
            row += 2
            for what in listed:
                sheet.write(row, 0, what, {**WRAPPED, "text_wrap": False})
                row += 1


def _section(sheet: Sheet, row: int, title: str, width: int) -> None:
    sheet.write_row(row, [title, *[None] * (width - 1)], SECTION)


def _figures(measures: Measures) -> list[tuple[str, Figures]]:
    rows = [("The plan as it is", measures.now)]
    if measures.measures or measures.not_tried or measures.no_place:
        rows.append(("No measure, with as long a search as each measure", measures.without))
    return rows


def _measure_columns(base: Base) -> tuple[Column[_Ranked], ...]:
    currency = base.currency
    return (
        Column("Measure", lambda r: f"{r.rank}. {r.measure.what}", WRAPPED, width=46),
        Column("Kind", lambda r: r.measure.kind, WRAPPED, width=17),
        Column("How it was tried", lambda r: how_tried(r.measure), WRAPPED, width=19),
        Column("Less overtime (h)", lambda r: r.measure.overtime_less, HOURS_OR_DASH, width=13),
        Column("Less overload (h)", lambda r: r.overload_less, HOURS_OR_DASH, width=13),
        Column(
            f"Saves, negative: costs ({currency})",
            lambda r: r.measure.saves,
            MONEY_OR_DASH,
            lambda r: r.measure.saves <= -LEAST_MONEY,
            width=16,
        ),
        Column("Fewer days past Latest in", lambda r: r.days_less, WHOLE_OR_DASH, width=13),
        Column("Remarks", lambda r: remark(r.measure), WRAPPED, width=20),
        Column(
            f"Worth per head and week ({currency})",
            lambda r: r.measure.worth,
            MONEY_OR_DASH,
            width=14,
        ),
        Column(
            f"Cost of the plan with it ({currency})",
            lambda r: r.measure.after.money,
            MONEY,
            width=15,
        ),
        Column("Proven", lambda r: proof(r.measure, base), WRAPPED, width=30),
        Column("Checks moved", lambda r: len(r.measure.moved), WHOLE_OR_DASH, width=9),
        Column("Which", lambda r: ", ".join(r.measure.moved) or None, WRAPPED, width=40),
    )


def _figure_columns(base: Base) -> tuple[Column[tuple[str, Figures]], ...]:
    currency = base.currency
    return (
        Column("Plan", lambda row: row[0], WRAPPED, width=46),
        Column("Overtime (h)", lambda row: row[1].overtime_hours, HOURS_OR_DASH, width=17),
        Column("Contract (h)", lambda row: row[1].contract_hours, HOURS_OR_DASH, width=19),
        Column("Overload (h)", lambda row: row[1].overload_hours, HOURS_OR_DASH, width=13),
        Column("Days past Latest in", lambda row: row[1].days_past, WHOLE_OR_DASH, width=13),
        Column(
            f"Bought labour ({currency})", lambda row: row[1].labour_money, MONEY_OR_DASH, width=16
        ),
        Column(f"Cost of the plan ({currency})", lambda row: row[1].money, MONEY_OR_DASH, width=13),
    )
