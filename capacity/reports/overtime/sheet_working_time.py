"""The sheet ``Working-time limits``: what the plan's overtime meets, each limit's source."""

from collections.abc import Sequence

from capacity.facts import Base
from capacity.questions.overtime.limits import LimitMet
from capacity.questions.overtime.review import OvertimeReview
from capacity.reports.kit.formats import NOTE, SECTION, TITLE, WRAPPED, Look
from capacity.reports.kit.sheet import Book, Sheet
from capacity.reports.kit.table import Column, write_table
from capacity.reports.overtime.wording import LONG_HOURS, limits_in_words, times, why_met
from capacity.working_time.rule_sets import RULE_SETS
from capacity.working_time.wording import CAUTION, limit_in_words

SHEET = "Working-time limits"

COLUMNS: tuple[Column[LimitMet], ...] = (
    Column("Crew", lambda met: met.crew, WRAPPED, width=24),
    Column("Limit, and the worst case beyond it", lambda met: met.what, WRAPPED, width=54),
    Column("How often", times, width=12),
    Column("Exceeded", why_met, WRAPPED, lambda met: met.by_overtime, width=22),
    Column("Source", lambda met: met.source, WRAPPED, width=48),
)
LAST = len(COLUMNS) - 1

BASIS = (
    "Overtime of a crew is laid evenly on the days that its people work in the week; people are "
    "taken to follow their crew's pattern and to share overtime alike, so figures are those of a "
    "person on average. Whoever stays longer than others may exceed more limits than are shown "
    "here. An average is taken over the whole reference period of its rule; where the plan is "
    "shorter, the weeks around it are as the roster has them, without overtime, and the weeks of "
    "the plan alone are stated beside it."
)


def working_time_sheet(book: Book, review: OvertimeReview, base: Base) -> None:
    """Add the sheet: the limits that are met, what was looked at, and what was not."""
    sheet = book.sheet(SHEET)
    sheet.widths([column.width for column in COLUMNS])
    sheet.hide_gridlines()
    sheet.write(0, 0, "Working-time limits of the crews", TITLE)
    row = paragraphs(sheet, 1, LAST, (CAUTION, LONG_HOURS, limits_in_words(review, base)))
    if base.working_time_rules is None or base.working_time_mode == "off":
        return
    if review.limits:
        row = write_table(sheet, row + 1, COLUMNS, review.limits)
    rules = RULE_SETS[base.working_time_rules]
    looked_at = [limit_in_words(limit) for limit in rules.limits]
    for title, sentences in (
        (rules.title, looked_at),
        ("Not checked", rules.not_checked),
        ("How it was checked", (BASIS,)),
    ):
        if sentences:
            sheet.run(row + 1, 0, LAST, title, SECTION)
            row = paragraphs(sheet, row + 2, LAST, sentences, WRAPPED)


def paragraphs(
    sheet: Sheet, row: int, last: int, sentences: Sequence[str], look: Look = NOTE
) -> int:
    """Write a sentence a row over the columns up to ``last``; return the row below."""
    for number, sentence in enumerate(sentences, start=row):
        sheet.run(number, 0, last, sentence, look)
        sheet.height(number, 15 * (1 + len(sentence) // 130))
    return row + len(sentences)
