"""The workbook of two plans of one base side by side."""

from collections.abc import Sequence
from pathlib import Path

from capacity.facts import Base
from capacity.plans.plan import Placement, Plan
from capacity.questions.compare.two_plans import Comparison, PlacementPair
from capacity.reports.compare.sheet_two_plans import (
    OVERLOAD_WEEKS,
    Names,
    goals_of,
    goals_pair_table,
    money_pair_table,
    overload_pair_sheet,
)
from capacity.reports.compare.wording import (
    NAMES,
    apart_in_words,
    broken_in_words,
    compared_in_words,
    differing_in_words,
    differs_in_words,
    notes_on_steps,
    steps_in_words,
)
from capacity.reports.kit import formats
from capacity.reports.kit.formats import MONEY, SECTION, SIGNED_DAYS, WRAPPED
from capacity.reports.kit.paragraphs import write_paragraphs
from capacity.reports.kit.sheet import A3, Book
from capacity.reports.kit.table import Column, write_sheet_table, write_table
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.stay_columns import stay_columns
from capacity.reports.plan.wording import CAUTION

OVERVIEW, SLOTS = "Overview", "Slots"

WIDTHS = (34, 22, 22, 26, 16)
LAST = len(WIDTHS) - 1

SHEETS = (
    (SLOTS, "bay and days of each check in both plans"),
    (OVERLOAD_WEEKS, "the weeks with overload, in both plans"),
)


def write_comparison_workbook(
    told: Comparison,
    base: Base,
    path: Path,
    names: Names = NAMES,
    plans: Sequence[Plan] = (),
) -> None:
    """Write the workbook whole or not at all.

    Raises
    ------
    OutputError
        When the file cannot be written.
    """
    write_whole(comparison_workbook(told, base, names, plans), path)


def comparison_workbook(
    told: Comparison, base: Base, names: Names = NAMES, plans: Sequence[Plan] = ()
) -> bytes:
    """Return the workbook as bytes of an ``.xlsx`` file; ``names`` is what the plans are called."""
    book = Book(title=f"Two slot plans of {base.name}", plans=plans)
    _overview_sheet(book, told, base, names)
    _slots_sheet(book, told, base, names)
    overload_pair_sheet(book, told, names)
    return book.content()


def _overview_sheet(book: Book, told: Comparison, base: Base, names: Names) -> None:
    sheet = book.sheet(OVERVIEW)
    sheet.hide_gridlines()
    sheet.widths(WIDTHS)
    sheet.write(0, 0, f"Two slot plans of {base.name}", formats.TITLE)
    sheet.write(1, 0, f"{names[0]} and {names[1]}")
    verdicts = (compared_in_words(told, names, base), differing_in_words(told))
    row = write_paragraphs(sheet, 3, verdicts, formats.VERDICT, WIDTHS)
    row = write_paragraphs(sheet, row, apart_in_words(told, names), WRAPPED, WIDTHS)
    row = write_paragraphs(sheet, row, broken_in_words(told, names), formats.ALARM, WIDTHS)
    row = write_paragraphs(sheet, row, (CAUTION,), formats.NOTE, WIDTHS) + 1
    sheet.write_row(row, ["Goals, in order of importance", *[None] * LAST], SECTION)
    row = goals_pair_table(sheet, row + 1, goals_of(told, base), names, WIDTHS) + 1
    sheet.write_row(row, ["Cost by kind", *[None] * LAST], SECTION)
    row = money_pair_table(sheet, row + 1, told, names, base, WIDTHS) + 1
    if told.steps is not None and told.steps.tell_more:
        sheet.write_row(row, ["Why the cost differs, all checks counted", *[None] * LAST], SECTION)
        columns: tuple[Column[tuple[str, float]], ...] = (
            Column("Step", lambda s: s[0], WRAPPED, width=WIDTHS[0]),
            Column(f"Cost ({base.currency})", lambda s: s[1], MONEY, width=WIDTHS[1]),
        )
        row = write_table(sheet, row + 1, columns, steps_in_words(told.steps, names))
        notes = notes_on_steps(told.steps, names)
        row = write_paragraphs(sheet, row, notes, WRAPPED, WIDTHS) + 1
    sheet.write_row(row, ["The other sheets", *[None] * LAST], SECTION)
    for number, line in enumerate(SHEETS, start=row + 1):
        sheet.write_row(number, line)


def _slots_sheet(book: Book, told: Comparison, base: Base, names: Names) -> None:
    columns: tuple[Column[PlacementPair], ...] = (
        Column("Check", lambda p: p.check, width=14),
        Column("Aircraft", lambda p: base.check(p.check).aircraft, width=14),
        Column("Customer", lambda p: base.check(p.check).customer or None, width=18),
        Column("Status", lambda p: base.check(p.check).status.value, width=10),
        *stay_columns(f"in {names[0]}", _first),
        *stay_columns(f"in {names[1]}", _second),
        Column("In later by (days)", _days_later, SIGNED_DAYS, width=10),
        Column(
            "Differs in",
            lambda p: differs_in_words(p, names),
            WRAPPED,
            lambda p: bool(p.what),
            width=30,
        ),
    )
    write_sheet_table(book.sheet(SLOTS, paper=A3), columns, told.placements, frozen_columns=2)


def _days_later(pair: PlacementPair) -> int | None:
    return pair.days if pair.first and pair.second else None


def _first(pair: PlacementPair) -> Sequence[Placement]:
    return pair.first


def _second(pair: PlacementPair) -> Sequence[Placement]:
    return pair.second
