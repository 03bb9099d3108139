"""The sheet ``Man-hours by month``: available against needed, by calendar month and function."""

from calendar import month_abbr
from collections.abc import Sequence
from datetime import date

from capacity.man_hour_plan.man_hour_plan import man_hour_plan
from capacity.man_hour_plan.month_function import ManHourPlan, MonthFunction
from capacity.man_hour_plan.own_staff_share import TooFewEmployed, least_employed
from capacity.reports.kit.formats import (
    HOURS_OR_DASH,
    LEFT,
    MONEY,
    NOTE,
    PEOPLE_OR_DASH,
    SECTION,
    TITLE,
    WHOLE,
    WRAPPED,
)
from capacity.reports.kit.sheet import Book, Sheet
from capacity.reports.kit.table import Column, write_table
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import CAUTION
from capacity.words import LEAST_HOURS, counted, day

SHEET = "Man-hours by month"
"""Neutral, since rules call this plan by several names; the base's own one is the title."""

TWO_PLACES = MONEY  # 25.03 % is more than a quarter and must not read as one
WIDTHS = (12, 17, 14, 14, 14, 15, 14, 16, 52)
LAST = len(WIDTHS) - 1

MONTH_COLUMNS: tuple[Column[MonthFunction], ...] = (
    Column("Month", lambda m: _month(m), LEFT, width=12),
    Column("Function", lambda m: str(m.function), width=17),
    Column("Planned available (h)", lambda m: m.planned, HOURS_OR_DASH, width=14),
    Column("Planned absence (h)", lambda m: m.absent, HOURS_OR_DASH, width=14),
    Column("Actually available (h)", lambda m: m.available, HOURS_OR_DASH, width=14),
    Column(
        "Shortfall (% of planned available)",
        lambda m: _percent(m.shortfall),
        TWO_PLACES,
        lambda m: m.is_significant,
        width=15,
    ),
    Column("Needed (h)", lambda m: m.needed, HOURS_OR_DASH, width=14),
    Column(
        "Needed less available (% of needed)",
        lambda m: _percent(m.shortfall_of_need),
        TWO_PLACES,
        lambda m: m.is_short_of_need,
        width=16,
    ),
    Column("Remarks", lambda m: remarks(m) or None, WRAPPED, width=52),
)
SHIFT_COLUMNS: tuple[Column[TooFewEmployed], ...] = (
    Column("Shift", lambda t: t.worst.shift, width=12),
    Column("Area", lambda t: t.worst.area or "not stated", width=17),
    Column("Own staff (people)", lambda t: t.worst.employed, PEOPLE_OR_DASH, width=14),
    Column("Contract (people)", lambda t: t.worst.contract, PEOPLE_OR_DASH, width=14),
    Column("Half is (people)", lambda t: least_employed(t.worst.heads), PEOPLE_OR_DASH, width=14),
    Column("Days", lambda t: len(t.days), WHOLE, width=15),
    Column("First", lambda t: day(t.days[0]), width=14),
    Column("Last", lambda t: day(t.days[-1]), width=16),
    Column("Remarks", lambda t: _shift_remarks(t), WRAPPED, width=52),
)


def man_hour_plan_sheet(book: Book, view: View) -> None:
    """Add the sheet: what it is and when it is due again, the months, the shifts."""
    plan = man_hour_plan(view.base, view.outcome.plan)
    sheet = book.sheet(SHEET)
    sheet.widths(WIDTHS)
    sheet.write(0, 0, f"{plan.name} of {view.base.name}", TITLE)
    row = 1
    for line in (*_head(plan), _not_in_it(view.base.last_in_day), CAUTION):
        sheet.run(row, 0, LAST, line, NOTE)
        sheet.height(row, 15 * (1 + len(line) // 170))
        row += 1
    sheet.write_row(row + 1, ["By calendar month and function", *[None] * LAST], SECTION)
    row = write_table(sheet, row + 2, MONTH_COLUMNS, plan.months) + 1
    _shifts(sheet, row, plan.too_few_employed)


def _head(plan: ManHourPlan) -> Sequence[str]:
    """Say what the figures are, when they are to be looked at again, and what they leave out."""
    due = f"next review due by {day(plan.review_due)}"
    return [
        f"Plan of {day(plan.made_on)}, {due}, three months later."
        if plan.dated
        else f"No plan date is given; counted from the first day, {day(plan.made_on)}, the {due}. "
        "Give Plan date in the sheet Base.",
        _for_review(plan),
        "Shortfall = (planned available - actually available) / planned available, in one "
        "calendar month and function; more than 25 % is for review. Needed less available = "
        "(needed - available) / needed is another figure with another denominator; "
        "below 0, more is available than needed.",
        "Planned available are crews as rostered with nobody away, and people off the roster; "
        "actually available is without planned absence. Overtime and contract hours bought on "
        "top are not counted. Each crew counts in the function of its own skill.",
        f"Nothing is stated for: {', '.join(plan.untold)}. Fill in the sheet Functions."
        if plan.untold
        else "All functions are stated.",
    ]


def _for_review(plan: ManHourPlan) -> str:
    """Count and name whatever the tables below mark, months first and shifts behind them."""
    flagged = [f"{m.function} in {_month(m)} ({_short_of(m)})" for m in plan.for_review]
    flagged += [
        f"shift {t.worst.shift}{f' in {t.worst.area}' if t.worst.area else ''} (less than half "
        "own staff)"
        for t in plan.too_few_employed or ()
    ]
    if flagged:
        return f"For review, {counted(len(flagged), 'case')}: {', '.join(flagged)}."
    return (
        "For review: nothing. In every month and function at least 75 % of what is planned and of "
        "what is needed is available."
    )


def _short_of(month: MonthFunction) -> str:
    kinds = (("planned", month.is_significant), ("needed", month.is_short_of_need))
    return f"less than {' and than '.join(kind for kind, is_short in kinds if is_short)}"


def _not_in_it(last_in_day: date) -> str:
    return (
        f"Checks that come in after {day(last_in_day)} are not in this plan; what is needed from "
        "then on is more than shown."
    )


def remarks(month: MonthFunction) -> str:
    """Return in words what is marked, and a month that the plan covers only in part."""
    said = []
    if month.is_significant:
        said.append("for review: more than 25 % below planned")
    if month.is_short_of_need:
        said.append("for review: more than 25 % of the need is not covered")
    elif month.needed - month.available >= LEAST_HOURS:
        said.append("more needed than available")
    if not month.is_whole_month:
        said.append(f"from {day(month.first)} on only")
    return "; ".join(said)


def _shifts(sheet: Sheet, top: int, broken: tuple[TooFewEmployed, ...] | None) -> None:
    sheet.write_row(
        top,
        ["Own-staff share: at least half, in each area and on each shift", *[None] * LAST],
        SECTION,
    )
    sheet.write(
        top + 1,
        0,
        "A shift counts by its name, also where another overlaps it. A plan for a time with a "
        "smaller share is for the authority to agree.",
        {**NOTE, "text_wrap": False},
    )
    if broken is None:
        sheet.write(top + 2, 0, "Not looked at: Own-staff share rule is off in the sheet Base.")
    elif not broken:
        sheet.write(top + 2, 0, "On every shift at least half of those who work are own staff.")
    else:
        write_table(sheet, top + 2, SHIFT_COLUMNS, broken)


def _shift_remarks(broken: TooFewEmployed) -> str:
    told = "" if broken.worst.area else "; crews of several hangars together: state their Area"
    return f"less than half own staff on {counted(len(broken.days), 'day')}, worst shown{told}"


def _month(month: MonthFunction) -> str:
    return f"{month_abbr[month.first.month]} {month.first.year}"


def _percent(share: float | None) -> float | None:
    return None if share is None else 100 * share
