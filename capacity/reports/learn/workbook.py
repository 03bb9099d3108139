"""The workbook of what was learnt: an overview, and a row a package and stage."""

from collections.abc import Callable
from pathlib import Path

from capacity.facts import Base
from capacity.questions.learn.estimate import Estimate
from capacity.questions.learn.values import Learnt, LearntPackage, LearntStage
from capacity.reports.kit import formats
from capacity.reports.kit.formats import HOURS, PERCENT, SECTION, WHOLE, WRAPPED
from capacity.reports.kit.paragraphs import write_paragraphs
from capacity.reports.kit.sheet import A3, Book
from capacity.reports.kit.table import Column, write_sheet_table, write_table
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.learn.wording import (
    HOW,
    NOTHING_IS_CHANGED,
    Where,
    learnt_in_one_line,
    proposals_in_words,
    silent_in_words,
    visits_in_words,
)
from capacity.reports.plan.wording import CAUTION

OVERVIEW, STAGES = "Overview", "Learnt by stage"
WIDTHS = (34, 12, 20, 16, 18, 18)


def write_learnt_workbook(learnt: Learnt, base: Base, where: Where, path: Path) -> None:
    """Write the workbook whole or not at all.

    Raises
    ------
    OutputError
        When the file cannot be written.
    """
    write_whole(learnt_workbook(learnt, base, where), path)


def learnt_workbook(learnt: Learnt, base: Base, where: Where) -> bytes:
    """Return the workbook as bytes of an ``.xlsx`` file."""
    book = Book(title=f"What delivered checks of {base.name} teach")
    _overview(book, learnt, base)
    _stages(book, learnt, where)
    return book.content()


def _overview(book: Book, learnt: Learnt, base: Base) -> None:
    sheet = book.sheet(OVERVIEW)
    sheet.hide_gridlines()
    sheet.widths(WIDTHS)
    sheet.write(0, 0, f"What delivered checks of {base.name} teach", formats.TITLE)
    lines = (learnt_in_one_line(learnt, base.name), NOTHING_IS_CHANGED)
    row = write_paragraphs(sheet, 2, lines, formats.VERDICT, WIDTHS)
    silent = silent_in_words(learnt)
    row = write_paragraphs(sheet, row, (silent,) if silent else (), WRAPPED, WIDTHS)
    row = write_paragraphs(sheet, row, (HOW, CAUTION), formats.NOTE, WIDTHS) + 1
    sheet.write_row(row, ["By package, whole visits", *[None] * (len(WIDTHS) - 1)], SECTION)
    columns: tuple[Column[LearntPackage], ...] = (
        Column("Package", lambda p: p.package, width=WIDTHS[0]),
        Column("Visits", lambda p: p.visits, WHOLE, width=WIDTHS[1]),
        Column("Findings (% of routine)", _of("findings", "mean", 100), PERCENT, width=WIDTHS[2]),
        Column("Stay (days)", _of("stay", "mean"), HOURS, width=WIDTHS[3]),
        Column("Stay planned (days)", _of("planned_stay", "mean"), HOURS, width=WIDTHS[4]),
        Column("Late out (days)", _of("days_late", "mean"), HOURS, width=WIDTHS[5]),
    )
    row = write_table(sheet, row + 1, columns, learnt.packages) + 1
    sheet.write_row(row, ["The other sheet", *[None] * (len(WIDTHS) - 1)], SECTION)
    sheet.write_row(row + 1, (STAGES, "findings, days and man-hours of every stage, proposals"))


def _stages(book: Book, learnt: Learnt, where: Where) -> None:
    columns: tuple[Column[LearntStage], ...] = (
        Column("Package", lambda s: s.package, width=24),
        Column("Stage", lambda s: s.stage, width=20),
        Column("Visits", lambda s: s.visits, WHOLE, width=8),
        Column("Findings now (%)", lambda s: _percent(s.planned_findings), PERCENT, width=12),
        Column("Findings learnt (%)", _of("findings", "mean", 100), PERCENT, width=12),
        Column("Mean at least (%)", _of("findings", "low", 100), PERCENT, width=12),
        Column("Mean at most (%)", _of("findings", "high", 100), PERCENT, width=12),
        Column("Spread now (% of findings)", lambda s: _percent(s.planned_spread), PERCENT),
        Column("Spread learnt (% of findings)", lambda s: _percent(s.proposed_spread), PERCENT),
        Column("How sure", lambda s: visits_in_words(s.findings), WRAPPED, _is_of_few, width=24),
        Column("Days now", lambda s: s.planned_days, WHOLE, width=8),
        Column("Days learnt", _of("days", "mean"), HOURS, width=10),
        Column("Days at least", _of("days", "low"), HOURS, width=10),
        Column("Days at most", _of("days", "high"), HOURS, width=10),
        Column("Visits with days", _of("days", "number"), WHOLE, width=10),
        Column("Man-hours, % of planned", _of("hours", "mean", 100), PERCENT, width=12),
        Column("Proposed", lambda s: proposals_in_words(s, where), WRAPPED, width=48),
    )
    stages = [stage for package in learnt.packages for stage in package.stages]
    write_sheet_table(book.sheet(STAGES, paper=A3), columns, stages, frozen_columns=2)


def _of(
    estimate: str, field: str, times: float = 1
) -> Callable[[LearntStage | LearntPackage], float | None]:
    """Return what reads a figure of an estimate, None where it is not known."""

    def read(row: LearntStage | LearntPackage) -> float | None:
        found: Estimate | None = getattr(row, estimate)
        value: float | None = None if found is None else getattr(found, field)
        return None if value is None else times * value

    return read


def _percent(share: float | None) -> float | None:
    return None if share is None else 100 * share


def _is_of_few(stage: LearntStage) -> bool:
    return stage.findings is None or stage.findings.is_of_few
