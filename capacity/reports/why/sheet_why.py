"""The sheets ``Why`` and ``Worth``: what is in the way, and what more would be worth."""

from collections.abc import Sequence
from datetime import date

from capacity.cells import Where, sheet_only
from capacity.facts import Base
from capacity.questions.why.explain import Explanation
from capacity.questions.why.in_one_line import in_one_line
from capacity.questions.why.values import Blocked, Dearer, Why
from capacity.questions.why.wording import place_text
from capacity.questions.worth.values import Worth, Worths
from capacity.questions.worth.wording import (
    is_of_ready_dates,
    what_is_not_priced,
    where_changed,
)
from capacity.reports.kit.formats import (
    DATE,
    MONEY_OR_DASH,
    NOTE,
    SECTION,
    TITLE,
    WHOLE_OR_DASH,
    WRAPPED,
)
from capacity.reports.kit.sheet import Book, Cell, Sheet
from capacity.reports.kit.table import Column, write_table

WHY, WORTH = "Why", "Worth"
LAST = 6
BULLET = "\u2022 "

Row = tuple[Why, Blocked | Dearer]


def why_sheet(book: Book, explanation: Explanation, base: Base, where: Where | None = None) -> None:
    """Add the sheet: the answer in sentences, then each better place with what is in its way."""
    sheet, at = book.sheet(WHY), where or sheet_only
    sheet.widths([column.width for column in _place_columns(base, at)])
    sheet.write(0, 0, "Why", TITLE)
    row = _sentences(sheet, 1, (in_one_line(explanation, base), *explanation.sentences))
    places = [(why, place) for why in explanation.whys for place in why.better]
    if places:
        sheet.write_row(row + 1, ["Better days, and what keeps a check from them"], SECTION)
        write_table(sheet, row + 2, _place_columns(base, at), places)


def worth_sheet(book: Book, worths: Worths, base: Base, where: Where | None = None) -> None:
    """Add the sheet: what one more bay, head or day would save, and what is proven of it."""
    sheet, columns = book.sheet(WORTH), _worth_columns(base, where or sheet_only)
    sheet.widths([column.width for column in columns])
    of_dates = is_of_ready_dates(worths)
    title = "What each Ready date costs" if of_dates else "What one more would be worth"
    sheet.write(0, 0, title, TITLE)
    sheet.write(1, 0, what_is_not_priced(worths), {**NOTE, "text_wrap": False})
    row = write_table(sheet, 3, columns, worths.worths)
    if worths.not_tried:
        sheet.write_row(row + 1, ["Not tried in the time given"], SECTION)
        for number, what in enumerate(worths.not_tried, start=row + 2):
            sheet.write(number, 0, what)


def _sentences(sheet: Sheet, row: int, sentences: Sequence[str]) -> int:
    """Write a sentence a row over the width of the tables; return the row below."""
    for number, sentence in enumerate(sentences, start=row):
        # A text that begins with a dash would have to be kept from being a formula.
        text = f"{BULLET}{sentence.strip()[2:]}" if sentence.startswith("  - ") else sentence
        sheet.run(number, 0, LAST, text, WRAPPED)
        sheet.height(number, 15 * (1 + len(sentence) // 150))
    return row + len(sentences)


def _place_columns(base: Base, where: Where) -> tuple[Column[Row], ...]:
    def in_day(row: Row) -> date:
        return row[1].day

    def money(row: Row) -> Cell:
        place = row[1]
        return place.money if isinstance(place, Dearer) else -place.saves

    return (
        Column("Check", lambda row: row[0].check, width=14),
        Column("Comes in", in_day, DATE, width=17),
        Column("Bays", lambda row: ", then ".join(row[1].bays), WRAPPED, width=18),
        Column("Out", lambda row: row[1].out_day, DATE, width=17),
        Column(
            f"Adds to the cost of the plan, negative: saves ({base.currency})",
            money,
            MONEY_OR_DASH,
            width=18,
        ),
        Column("Fewer days past Latest in", lambda row: row[1].days_past_less, WHOLE_OR_DASH),
        Column("Why not", lambda row: place_text(row[1], base, where), WRAPPED, width=70),
    )


def _worth_columns(base: Base, where: Where) -> tuple[Column[Worth], ...]:
    currency = base.currency
    return (
        Column("One more", lambda worth: worth.what, WRAPPED, width=46),
        Column("Where", lambda worth: where_changed(worth, where)[1:-1], WRAPPED, width=20),
        Column(
            "Fewer days past Latest in", lambda worth: worth.saves_days, WHOLE_OR_DASH, width=13
        ),
        Column(f"Saves ({currency})", lambda worth: worth.saves, MONEY_OR_DASH, width=15),
        Column(
            f"At least, proven ({currency})", lambda worth: worth.least, MONEY_OR_DASH, width=15
        ),
        Column(f"At most, proven ({currency})", lambda worth: worth.most, MONEY_OR_DASH, width=15),
        Column(
            f"Cost of the plan with it ({currency})",
            lambda worth: worth.after.money,
            MONEY_OR_DASH,
            width=15,
        ),
    )
