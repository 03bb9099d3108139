"""The sheet ``Overview``: how good the plan is, what it costs and what has no slot."""

from collections import Counter
from collections.abc import Sequence

from capacity.facts import Status
from capacity.reports.kit import formats
from capacity.reports.kit.formats import DATE, MONEY, WRAPPED, Look
from capacity.reports.kit.sheet import Book, Cell, Sheet
from capacity.reports.kit.table import Column, write_table
from capacity.reports.plan.further_sheet import FurtherSheet
from capacity.reports.plan.largest_moves import LARGEST, LargeMove, largest_moves
from capacity.reports.plan.overview_tables import goals_table, money_table
from capacity.reports.plan.sheet_extra_work import SHEET as EXTRA_WORK
from capacity.reports.plan.sheet_progress import SHEET as PROGRESS
from capacity.reports.plan.sheet_ready_dates import SHEET as READY_DATES
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import (
    CAUTION,
    COUNTED_BY_DAY,
    ENDED_BY,
    how_dear,
    how_loaded,
    how_punctual,
    levels,
)
from capacity.words import counted, day, days, money

WIDTHS = (30, 18, 20, 24, 20, 44)
LAST = len(WIDTHS) - 1

SHEETS = (
    ("Key figures", "one page for management: use of bays and labour, turn-round, options"),
    ("Bay occupancy", "which check is in which bay on which day, drawn"),
    ("Slots", "each check with its bay, its dates and what they cost"),
    ("Stages", "each stage of each check with its days"),
    (PROGRESS, "man-hours planned, booked, earned and to go of the checks in work"),
    (EXTRA_WORK, "man-hours beyond the packages, by check, stage, skill and reason"),
    (READY_DATES, "which stage waits for which part, tool or approval, and how long"),
    ("Overload weeks", "how much of each week is used, and the weeks with overload, worst first"),
    ("Man-hours", "demand, regular and bought man-hours by skill and week"),
    ("Man-hours by month", "the man-hour plan by calendar month and function"),
    ("Crew hours", "man-hours of each crew assigned to each skill in each week"),
    ("Man-hour charts", "the same as a chart for each skill"),
    ("Messages", "errors, warnings and notes about the input and the plan"),
    ("Cautions", "what can hurt somebody in this plan, each with its source"),
    ("Settings", "what the plan was made with, and how the search ran"),
)


def overview_sheet(book: Book, view: View, further: Sequence[FurtherSheet] = ()) -> None:
    """Add the sheet, in the order in which a person asks; ``further`` sheets are named too."""
    sheet = book.sheet("Overview")
    sheet.hide_gridlines()
    sheet.widths(WIDTHS)
    row = _title(sheet, view, further)
    row = _left_out(sheet, row, view)
    _section(sheet, row, "Goals, in order of importance")
    row = goals_table(sheet, row + 1, view) + 1
    _section(sheet, row, "Cost by kind")
    row = money_table(sheet, row + 1, view) + 1
    row = _counts(sheet, row, view)
    row = _largest_moves(sheet, row, view)
    row = _search(sheet, row, view)
    _contents(sheet, row, view, further)


def _title(sheet: Sheet, view: View, further: Sequence[FurtherSheet]) -> int:
    base, outcome = view.base, view.outcome
    sheet.write(0, 0, f"Slot plan of {base.name}", formats.TITLE)
    sheet.write(
        1,
        0,
        f"Aircraft come in from {day(base.first_day)} to {day(base.last_in_day)} "
        f"({base.weeks} weeks){_last_out(view)}.",
    )
    cost = how_dear(outcome, base)
    if further and outcome.bound is None:
        amount = money(outcome.audit.goals.money, base)
        cost = f"The cost of the plan is {amount}; the sheet {further[0].name} says what is proven."
    loaded = how_loaded(outcome) + (f" {COUNTED_BY_DAY}" if base.counts_days else "")
    sentences = (how_punctual(outcome, base), cost, loaded)
    for row, sentence in enumerate(sentences, start=3):
        sheet.run(row, 0, LAST, sentence, formats.VERDICT)
        sheet.height(row, 34)
    sheet.run(6, 0, LAST, CAUTION, formats.NOTE)
    sheet.height(6, 30)
    return 8


def _last_out(view: View) -> str:
    if not view.placements:
        return ""
    return f"; the last one is out on {day(max(p.out_day for p in view.placements))}"


def _left_out(sheet: Sheet, row: int, view: View) -> int:
    """List the checks without a slot, loudly, and the options not taken."""
    plan = view.outcome.plan
    if plan.not_placed:
        text = (
            f"No slot: {counted(len(plan.not_placed), 'fixed or booked check')}. Each counts "
            f"as {days(view.base.longest_delay_days + 1)} past Latest in."
        )
        row = _list_checks(sheet, row, view, text, plan.not_placed, formats.ALARM)
    lapsed = [name for name in plan.refused if view.base.has_lapsed(view.base.check(name))]
    if refused := [name for name in plan.refused if name not in lapsed]:
        text = "Options not taken: they would cost more than they earn, or have no slot"
        row = _list_checks(sheet, row, view, text, refused, formats.SECTION)
    if lapsed:
        text = "Options lapsed: their Decide by has passed"
        row = _list_checks(sheet, row, view, text, lapsed, formats.SECTION)
    return row


def _list_checks(
    sheet: Sheet, row: int, view: View, title: str, names: Sequence[str], look: Look
) -> int:
    currency = view.base.currency
    columns: tuple[Column[str], ...] = (
        Column("Check", lambda n: n, width=WIDTHS[0]),
        Column("Aircraft", lambda n: view.base.check(n).aircraft, width=WIDTHS[1]),
        Column("Customer", lambda n: view.base.check(n).customer, width=WIDTHS[2]),
        Column("Latest in", lambda n: view.base.check(n).latest_in, DATE, width=WIDTHS[3]),
        Column(
            f"Price ({currency})",
            lambda n: view.base.check(n).price or None,
            MONEY,
            width=WIDTHS[4],
        ),
        Column("Status and package", lambda n: _kind(view, n), WRAPPED, width=WIDTHS[5]),
    )
    sheet.run(row, 0, LAST, title, look)
    return write_table(sheet, row + 1, columns, names) + 1


def _kind(view: View, name: str) -> str:
    check = view.base.check(name)
    return f"{check.status.value}, {check.package}"


def _counts(sheet: Sheet, row: int, view: View) -> int:
    placed = [view.base.check(name) for name in view.first_of]
    wanted = Counter(check.status for check in view.base.checks)
    got = Counter(check.status for check in placed)
    used = {placement.bay for placement in view.placements}
    late = sum(account.late_days > 0 for account in view.outcome.audit.accounts)
    left = any(check.remaining is not None for check in view.base.checks)
    told = len({row.check for row in view.base.progress})
    lines: list[tuple[str, Cell]] = [
        *(
            (f"{s.value.capitalize()} checks with a slot", f"{got[s]} of {wanted[s]}")
            for s in Status
        ),
        ("Third-party checks with a slot", sum(check.third_party for check in placed)),
        ("Checks late out", late),
        *([("Work left counts from", day(view.base.work_left_from))] if left else []),
        *([("Checks with progress", told)] if told else []),
        ("Bays used", f"{len(used)} of {len(view.base.bays)}"),
        *_levelled(view),
        ("Messages on input and plan", levels(view.messages) or "none"),
    ]
    _section(sheet, row, "Counts")
    for number, line in enumerate(lines, start=row + 1):
        sheet.write_row(number, line, formats.LEFT)
    return row + len(lines) + 2


def _levelled(view: View) -> list[tuple[str, Cell]]:
    if view.levelling is None:
        return []
    currency = view.base.currency
    return [
        ("Hours in another week than if spread evenly (h)", round(view.levelling.moved, 1)),
        (f"That saves in the same slots ({currency})", round(view.levelling.saved, 2)),
    ]


def _largest_moves(sheet: Sheet, row: int, view: View) -> int:
    """List the stages whose hours levelling moved most, each with the reason."""
    moves = largest_moves(view)
    if not moves:
        return row
    columns: tuple[Column[LargeMove], ...] = (
        Column("Check", lambda m: m.check, width=WIDTHS[0]),
        Column("Aircraft", lambda m: m.aircraft, width=WIDTHS[1]),
        Column("Skill", lambda m: m.skill, width=WIDTHS[2]),
        Column("Stage", lambda m: m.stage, WRAPPED, width=WIDTHS[3]),
        Column("Hours moved", lambda m: m.moved, WRAPPED, width=WIDTHS[4]),
        Column("Why", lambda m: m.why, WRAPPED, width=WIDTHS[5]),
    )
    _section(sheet, row, LARGEST)
    return write_table(sheet, row + 1, columns, moves) + 1


def _search(sheet: Sheet, row: int, view: View) -> int:
    outcome = view.outcome
    _section(sheet, row, "Search")
    sheet.write_row(
        row + 1, ["What ended it", ENDED_BY.get(outcome.stopped_by, outcome.stopped_by)]
    )
    sheet.write_row(row + 2, ["Time used (s)", round(outcome.seconds, 1)], formats.LEFT)
    return row + 4


def _contents(sheet: Sheet, row: int, view: View, further: Sequence[FurtherSheet]) -> None:
    _section(sheet, row, "The other sheets")
    lacking = {
        name
        for name, rows in (
            (PROGRESS, view.base.progress),
            (EXTRA_WORK, view.base.extra_work),
            (READY_DATES, view.base.ready_dates),
        )
        if not rows
    }
    there = [(one.name, one.shows) for one in further]
    there += [line for line in SHEETS if line[0] not in lacking]
    for number, line in enumerate(there, start=row + 1):
        sheet.write_row(number, line)


def _section(sheet: Sheet, row: int, title: str) -> None:
    sheet.write_row(row, [title, *[None] * LAST], formats.SECTION)
