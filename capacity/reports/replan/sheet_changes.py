"""The sheets of a re-plan: what it comes to, and every change, why, and who is to be told."""

from collections.abc import Sequence

from capacity.facts import Base
from capacity.plans.audit import Audit
from capacity.plans.plan import Placement
from capacity.questions.asking.concerned import Concerned
from capacity.questions.compare.two_plans import Comparison
from capacity.questions.replan.values import Change, Replanned, What
from capacity.reports.compare.sheet_two_plans import (
    GoalPair,
    goals_of,
    goals_pair_table,
    money_pair_table,
)
from capacity.reports.kit import formats
from capacity.reports.kit.formats import MONEY_OR_DASH, SECTION, SIGNED_DAYS, WRAPPED
from capacity.reports.kit.paragraphs import write_paragraphs
from capacity.reports.kit.sheet import A3, Book, Sheet
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.plan.stay_columns import stay_columns
from capacity.reports.plan.wording import CAUTION, remarks, work_left_counts_from
from capacity.reports.replan.told import told_columns
from capacity.reports.replan.wording import (
    MOVE_PRICES,
    begun_in_words,
    freeze_in_words,
    proof_in_words,
    saved_in_words,
    search_in_words,
    what_in_words,
    why_in_words,
    work_done_in_words,
)
from capacity.words import counted, day

RE_PLAN, CHANGES, OVERLOAD_COMPARED = "Re-plan", "Changes", "Overload compared"

NAMES = ("old arrangement", "new plan")

WIDTHS = (34, 20, 20, 24, 16, 40)
LAST = len(WIDTHS) - 1

LOST = (What.UNPLACED, What.CANCELLED)


def replan_sheet(book: Book, answer: Replanned, told: Comparison) -> None:
    """Add the sheet; ``told`` compares the old arrangement with the new plan."""
    sheet, base = book.sheet(RE_PLAN), answer.base
    sheet.hide_gridlines()
    sheet.widths(WIDTHS)
    sheet.write(0, 0, f"Re-plan of {base.name}", formats.TITLE)
    sheet.write(1, 0, f"Today is {day(answer.today)}. {search_in_words(answer)}")
    verdicts = (saved_in_words(answer), proof_in_words(answer))
    row = write_paragraphs(sheet, 3, verdicts, formats.VERDICT, WIDTHS)
    row = write_paragraphs(sheet, row, _alarms(answer), formats.ALARM, WIDTHS)
    stays = (
        begun_in_words(answer),
        *freeze_in_words(answer),
        work_left_counts_from(base),
        work_done_in_words(base),
    )
    begun = tuple(s for s in stays if s)
    row = write_paragraphs(sheet, row, begun, WRAPPED, WIDTHS)
    row = write_paragraphs(sheet, row, (MOVE_PRICES, CAUTION), formats.NOTE, WIDTHS) + 1
    _section(sheet, row, "Goals, in order of importance")
    row = goals_pair_table(sheet, row + 1, _goals(answer, told), NAMES, WIDTHS) + 1
    _section(sheet, row, "Cost by kind")
    money_pair_table(sheet, row + 1, told, NAMES, base, WIDTHS)


def changes_sheet(
    book: Book, changes: Sequence[Change], base: Base, found: Audit, *, with_prices: bool = True
) -> None:
    """Add the sheet: a row a check that is not as it was; ``with_prices`` of moves."""
    columns = _columns(base, found, with_prices=with_prices)
    write_sheet_table(book.sheet(CHANGES, paper=A3), columns, changes, frozen_columns=2)


def _goals(answer: Replanned, told: Comparison) -> list[GoalPair]:
    kept, found = answer.kept.move_price, answer.found.move_price
    currency = answer.base.currency
    return [*goals_of(told, answer.base), GoalPair("Prices of moves", kept, found, currency)]


def _alarms(answer: Replanned) -> tuple[str, ...]:
    """Say loudly which checks have no slot in the new plan."""
    missing = answer.plan.not_placed
    if not missing:
        return ()
    return (f"No slot: {counted(len(missing), 'check')}: {', '.join(missing)}.",)


def _columns(base: Base, found: Audit, *, with_prices: bool) -> tuple[Column[Change], ...]:
    accounts = found.by_check()
    prices: tuple[Column[Change], ...] = (
        Column(f"Saves ({base.currency})", lambda c: c.saves, MONEY_OR_DASH, width=12),
        Column(
            f"Price of the move ({base.currency})",
            lambda c: c.move_price,
            MONEY_OR_DASH,
            width=14,
        ),
    )

    def aircraft(change: Change) -> str | None:
        return base.check(change.check).aircraft if base.has_check(change.check) else None

    def customer(change: Change) -> str | None:
        known = base.has_check(change.check)
        return base.check(change.check).customer or None if known else None

    def remark(change: Change) -> str | None:
        account = accounts.get(change.check)
        return remarks(account) or None if account else None

    return (
        Column("Check", lambda c: c.check, width=14),
        Column("Aircraft", aircraft, width=14),
        Column("Customer", customer, width=18),
        Column(
            "What",
            what_in_words,
            WRAPPED,
            lambda c: any(what in LOST for what in c.what),
            width=20,
        ),
        *stay_columns("before", _before),
        *stay_columns("now", _after),
        Column("In later by (days)", _days_later, SIGNED_DAYS, width=10),
        Column("Why", lambda c: why_in_words(c, base), WRAPPED, width=44),
        *(prices if with_prices else ()),
        Column("Remarks", remark, WRAPPED, lambda c: remark(c) is not None, width=30),
        *told_columns(_concerned),
    )


def _concerned(change: Change) -> Concerned:
    return change.concerned


def _days_later(change: Change) -> int | None:
    return change.days_moved if change.before and change.after else None


def _before(change: Change) -> Sequence[Placement]:
    return change.before


def _after(change: Change) -> Sequence[Placement]:
    return change.after


def _section(sheet: Sheet, row: int, title: str) -> None:
    sheet.write_row(row, [title, *[None] * LAST], SECTION)
