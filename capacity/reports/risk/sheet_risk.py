"""The sheets of the risk question: checks, weeks, and what the answer rests on."""

from collections.abc import Sequence
from pathlib import Path

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.questions.risk.compared import Comparison
from capacity.questions.risk.findings import StageSpread
from capacity.questions.risk.values import CheckRisk, Risk, WeekRisk
from capacity.reports.kit import formats
from capacity.reports.kit.formats import DATE, HOURS, HOURS_OR_DASH, PERCENT, WHOLE_OR_DASH, WRAPPED
from capacity.reports.kit.sheet import A3, Book, Sheet
from capacity.reports.kit.table import Column, write_sheet_table, write_table
from capacity.reports.kit.week_column import monday_column
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.wording import CAUTION
from capacity.reports.risk.sheet_compared import risks_compared_sheet
from capacity.words import counted, hours, money, percent
from capacity.words.marks import TRIANGLE

CHECKS, WEEKS, BASIS = "Risk of checks", "Risk of weeks", "Risk basis"

UNLIKELY_ON_DAY = 0.8
"""A check is marked when it is out by its day less often than this."""

LIKELY_OVERLOAD = 0.2
"""A week is marked when it is overloaded more often than this."""

CHECK_COLUMNS: tuple[Column[CheckRisk], ...] = (
    Column("Check", lambda c: c.check, width=14),
    Column("Bay", lambda c: c.bay, width=12),
    Column("In", lambda c: c.in_day, DATE, width=17),
    Column("Planned out", lambda c: c.planned_out, DATE, width=17),
    Column("To be out by", lambda c: c.home_by, DATE, width=17),
    Column("Agreed or planned day", lambda c: "agreed" if c.agreed else "planned", width=11),
    Column(
        "Out by then (% of simulations)",
        lambda c: 100 * c.on_day,
        PERCENT,
        lambda c: c.on_day < UNLIKELY_ON_DAY,
        width=11,
    ),
    Column("In later than planned (% of simulations)", lambda c: 100 * c.pushed, PERCENT, width=12),
    Column("Out by, in 50 % of simulations", lambda c: c.out_likely, DATE, width=17),
    Column("Out by, in 80 % of simulations", lambda c: c.out_safe, DATE, width=17),
    Column("Planned (man-hours)", lambda c: c.planned_man_hours, HOURS, width=12),
    Column(
        "At most, in 50 % of simulations (man-hours)", lambda c: c.man_hours_likely, HOURS, width=12
    ),
    Column(
        "At most, in 80 % of simulations (man-hours)", lambda c: c.man_hours_safe, HOURS, width=12
    ),
    Column("Buffer (worked days)", lambda c: c.buffer_days, WHOLE_OR_DASH, width=10),
    Column("Buffer (man-hours)", lambda c: c.buffer_man_hours, HOURS_OR_DASH, width=13),
    Column("Remarks", lambda c: _check_remarks(c), WRAPPED, width=44),
)

WEEK_COLUMNS: tuple[Column[WeekRisk], ...] = (
    Column("Skill", lambda w: w.skill, width=16),
    Column("Week", lambda w: w.week, width=11),
    monday_column(lambda w: w.week),
    Column("Demand as planned (h)", lambda w: w.planned_demand, HOURS_OR_DASH, width=11),
    Column(
        "Demand, average of the simulations (h)",
        lambda w: w.expected_demand,
        HOURS_OR_DASH,
        width=12,
    ),
    Column(
        "Demand at most, in 80 % of simulations (h)",
        lambda w: w.demand_safe,
        HOURS_OR_DASH,
        width=11,
    ),
    Column(
        "Available with overtime and contract (h)",
        lambda w: w.most_to_be_had,
        HOURS_OR_DASH,
        width=11,
    ),
    Column(
        "Overload (% of simulations)",
        lambda w: 100 * w.overload,
        PERCENT,
        lambda w: w.overload > LIKELY_OVERLOAD,
        width=11,
    ),
    Column("Expected overload (h)", lambda w: w.expected_overload, HOURS_OR_DASH, width=11),
    Column(
        "Remarks",
        lambda w: f"{TRIANGLE} overload likely" if w.overload > LIKELY_OVERLOAD else None,
        width=24,
    ),
)

SPREAD_COLUMNS: tuple[Column[StageSpread], ...] = (
    Column("Package", lambda s: s.package, width=38),
    Column("Stage", lambda s: s.stage, width=38),
    Column("Findings (% of routine)", lambda s: 100 * s.findings, PERCENT, width=14),
    Column("Spread (% of findings)", lambda s: 100 * s.spread, PERCENT, width=14),
    Column("Spread from", lambda s: str(s.source), width=30),
)

LAST = len(SPREAD_COLUMNS) - 1


def write_risk_workbook(
    risk: Risk,
    base: Base,
    path: Path,
    compared: Comparison | None = None,
    plans: Sequence[Plan] = (),
) -> None:
    """Write the workbook of a risk answer whole or not at all.

    Raises
    ------
    OutputError
        When the file cannot be written.
    """
    write_whole(risk_workbook(risk, base, compared, plans), path)


def risk_workbook(
    risk: Risk,
    base: Base,
    compared: Comparison | None = None,
    plans: Sequence[Plan] = (),
) -> bytes:
    """Return the risk sheets as the bytes of an ``.xlsx`` file, two plans beside each other."""
    book = Book(title=f"Risk of the slot plan {base.name}", plans=plans)
    risk_sheets(book, risk, base)
    if compared is not None:
        risks_compared_sheet(book, compared)
    return book.content()


def risk_sheets(book: Book, risk: Risk, base: Base) -> None:
    """Add the sheets of checks, of weeks, and of what they rest on."""
    write_sheet_table(book.sheet(CHECKS, paper=A3), CHECK_COLUMNS, risk.checks)
    names = [skill.name for skill in base.skills]
    by_skill = sorted(risk.weeks, key=lambda w: (names.index(w.skill), w.week))
    write_sheet_table(book.sheet(WEEKS), WEEK_COLUMNS, by_skill, frozen_columns=2)
    _basis_sheet(book.sheet(BASIS), risk, base)


WEEKS_POOLED = (
    "Simulations pool the man-hours of a week, though the plan counts them by days: overload of "
    "single days comes on top."
)


def in_words(risk: Risk, base: Base) -> tuple[str, ...]:
    """Return the whole plan's risk in sentences, with how exact the shares are."""
    totals, draws = risk.totals, risk.settings.draws
    points = 200 * risk.standard_error(0.5)
    return (
        f"In {percent(totals.all_on_day)} of {draws:,} simulations every check is out by its day. "
        f"On average {totals.late_checks:.1f} of {counted(len(risk.checks), 'check')} are late, by "
        f"{totals.late_days:.1f} days in total, which costs {money(totals.late_money, base)}.",
        f"On average {hours(totals.overload_hours)} of work are not covered, even with overtime "
        "and contract labour.",
        *([WEEKS_POOLED] if base.counts_days else []),
        f"Seed {risk.settings.seed}. A share of the simulations is exact to {points:.1f} "
        "percentage points or better (two standard errors).",
    )


def _basis_sheet(sheet: Sheet, risk: Risk, base: Base) -> None:
    sheet.hide_gridlines()
    sheet.widths([column.width for column in SPREAD_COLUMNS])
    sheet.write(0, 0, f"Risk of the slot plan of {base.name}", formats.TITLE)
    row = _paragraphs(sheet, 2, in_words(risk, base))
    row = _paragraphs(sheet, row, (CAUTION,))
    sheet.run(row + 1, 0, LAST, "What is assumed", formats.SECTION)
    row = _paragraphs(sheet, row + 2, risk.model)
    sheet.run(row + 1, 0, LAST, "Findings and their spread", formats.SECTION)
    write_table(sheet, row + 2, SPREAD_COLUMNS, risk.spreads)


def _paragraphs(sheet: Sheet, row: int, sentences: Sequence[str]) -> int:
    """Write a sentence a row over the whole width; return the row below."""
    characters = sum(column.width for column in SPREAD_COLUMNS)
    for number, sentence in enumerate(sentences, start=row):
        sheet.run(number, 0, LAST, sentence, formats.WRAPPED)
        sheet.height(number, 15 * (1 + len(sentence) // int(characters)))
    return row + len(sentences)


def _check_remarks(check: CheckRisk) -> str | None:
    words = []
    if check.on_day < UNLIKELY_ON_DAY:
        words.append("late in more than 1 of 5 simulations")
    if check.planned_out > check.home_by:
        words.append("planned late")
    return ", ".join(words) or None
