"""The sheet ``Placements``: every check in its bay, with its dates and what they cost."""

from collections.abc import Callable
from datetime import date

from capacity.facts import Check
from capacity.plans.audit import CheckAccount
from capacity.plans.plan import Placement
from capacity.reports.formats import (
    DATE,
    HOURS,
    MONEY_OR_DASH,
    SIGNED_DAYS,
    WHOLE,
    WHOLE_OR_DASH,
    WRAPPED,
)
from capacity.reports.sheet import A3, Book, Cell
from capacity.reports.table import Column, write_sheet_table
from capacity.reports.view import View
from capacity.reports.wording import remarks


def placements_sheet(book: Book, view: View) -> None:
    """Add the sheet."""
    sheet = book.sheet("Placements", paper=A3)
    write_sheet_table(sheet, _columns(view), view.placements)


def _columns(view: View) -> tuple[Column[Placement], ...]:
    """Return the columns; figures of a check stand at its first placement only, so they sum."""

    def check(value: Callable[[Check], Cell]) -> Callable[[Placement], Cell]:
        return lambda placement: value(view.checks[placement.check])

    def account(value: Callable[[CheckAccount], Cell]) -> Callable[[Placement], Cell]:
        def cell(placement: Placement) -> Cell:
            found = view.account_at(placement)
            return None if found is None else value(found)

        return cell

    def exceeds(value: Callable[[CheckAccount], int]) -> Callable[[Placement], bool]:
        def exceeded(placement: Placement) -> bool:
            found = view.account_at(placement)
            return found is not None and value(found) > 0

        return exceeded

    currency = view.base.currency
    return (
        Column("Check", lambda p: p.check, width=12),
        Column("Aircraft", check(lambda c: c.aircraft), width=11),
        Column("In", lambda p: p.in_day, DATE, width=16),
        Column("Out (bay free from this day)", lambda p: p.out_day, DATE, width=16),
        Column("Days in bay", lambda p: (p.out_day - p.in_day).days, WHOLE, width=8),
        Column("Bay", lambda p: p.bay, width=9),
        Column("Hangar", lambda p: view.bays[p.bay].hangar, width=11),
        Column("Remarks", lambda p: _remarks(view, p), WRAPPED, width=30),
        Column("Type", check(lambda c: c.type), WRAPPED, width=14),
        Column("Customer", check(lambda c: c.customer), WRAPPED, width=20),
        Column("Third party", check(lambda c: "yes" if c.third_party else "no"), width=7),
        Column("Status", check(lambda c: c.status.value), width=8),
        Column("Package", check(lambda c: c.package), WRAPPED, width=32),
        Column("Earliest in", check(lambda c: c.earliest_in), DATE, width=16),
        Column("Latest in", check(lambda c: c.latest_in), DATE, width=16),
        Column(
            "Past Latest in (days)",
            account(lambda a: a.days_past_latest_in),
            WHOLE_OR_DASH,
            exceeds(lambda a: a.days_past_latest_in),
            width=9,
        ),
        Column("Wanted in", check(lambda c: c.wanted_in), DATE, width=16),
        Column(
            "After Wanted in (days, - is before)",
            lambda p: _days_after(p.in_day, view.checks[p.check].wanted_in),
            SIGNED_DAYS,
            width=11,
        ),
        Column("Agreed out", check(lambda c: c.agreed_out), DATE, width=16),
        Column(
            "Past Agreed out (days)",
            account(lambda a: a.late_days),
            WHOLE_OR_DASH,
            exceeds(lambda a: a.late_days),
            width=9,
        ),
        Column("Before Latest in (days)", account(lambda a: a.early_days), WHOLE_OR_DASH, width=9),
        Column(
            f"Early cost ({currency})", account(lambda a: a.early_money), MONEY_OR_DASH, width=12
        ),
        Column(f"Late cost ({currency})", account(lambda a: a.late_money), MONEY_OR_DASH, width=12),
        Column(f"Price earned ({currency})", account(lambda a: a.price), MONEY_OR_DASH, width=12),
        Column("Work from first day (man-hours)", account(lambda a: a.man_hours), HOURS, width=11),
    )


def _remarks(view: View, placement: Placement) -> str | None:
    account = view.account_at(placement)
    if account is None:
        return f"goes on from {placement.stage_from}"
    return remarks(account) or None


def _days_after(in_day: date, wanted_in: date | None) -> int | None:
    return None if wanted_in is None else (in_day - wanted_in).days
