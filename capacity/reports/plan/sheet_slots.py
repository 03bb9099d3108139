"""The sheet ``Slots``: every check with its bay and days, and what they cost."""

from collections.abc import Callable
from dataclasses import dataclass

from capacity.facts import Check
from capacity.plans.audit import CheckAccount
from capacity.plans.plan import Placement
from capacity.reports.kit.formats import (
    DATE,
    HOURS,
    MONEY_OR_DASH,
    SIGNED_DAYS,
    WHOLE,
    WHOLE_OR_DASH,
    WRAPPED,
)
from capacity.reports.kit.sheet import A3, Book, Cell
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.plan.view import View


def slots_sheet(book: Book, view: View) -> None:
    """Add the sheet."""
    sheet = book.sheet("Slots", paper=A3)
    write_sheet_table(sheet, _columns(view), view.placements)


def _columns(view: View) -> tuple[Column[Placement], ...]:
    """Return the columns; each figure of a check stands at one placement only, so they sum.

    Where a check moves between bays, what hangs on its in day stands at the first, what hangs
    on its out day at the last.
    """

    def check(value: Callable[[Check], Cell]) -> Callable[[Placement], Cell]:
        return lambda placement: value(view.base.check(placement.check))

    came, leaves = _Figure(view.account_at), _Figure(view.account_leaving)
    currency = view.base.currency
    return (
        Column("Check", lambda p: p.check, width=12),
        Column("Aircraft", check(lambda c: c.aircraft), width=11),
        Column("In", lambda p: p.in_day, DATE, width=16),
        Column("Out (bay free from this day)", lambda p: p.out_day, DATE, width=16),
        Column("Days in the bay", lambda p: (p.out_day - p.in_day).days, WHOLE, width=8),
        Column("Bay", lambda p: p.bay, WRAPPED, width=12),
        Column("Hangar", lambda p: view.base.bay(p.bay).hangar, WRAPPED, width=11),
        Column("Remarks", lambda p: view.remarks_at(p) or None, WRAPPED, width=30),
        Column("Type", check(lambda c: c.type), WRAPPED, width=14),
        Column("Customer", check(lambda c: c.customer), WRAPPED, width=20),
        Column("Third party", check(lambda c: "yes" if c.third_party else "no"), width=7),
        Column("Status", check(lambda c: c.status.value), width=8),
        Column("Package", check(lambda c: c.package), WRAPPED, width=32),
        Column("Earliest in", check(lambda c: c.earliest_in), DATE, width=16),
        Column("Latest in", check(lambda c: c.latest_in), DATE, width=16),
        Column(
            "Days past Latest in",
            came.of(lambda a: a.days_past_latest_in),
            WHOLE_OR_DASH,
            came.exceeds(lambda a: a.days_past_latest_in),
            width=9,
        ),
        Column("Wanted in", check(lambda c: c.wanted_in), DATE, width=16),
        Column(
            "After Wanted in (days, - is before)",
            lambda p: _days_after_wanted(view, p),
            SIGNED_DAYS,
            width=11,
        ),
        Column("Agreed out", view.agreed_out, DATE, width=16),
        Column(
            "Days late out",
            leaves.of(lambda a: a.late_days),
            WHOLE_OR_DASH,
            leaves.exceeds(lambda a: a.late_days),
            width=9,
        ),
        Column(
            "Unused interval (days before Latest in)",
            came.of(lambda a: a.early_days),
            WHOLE_OR_DASH,
            width=9,
        ),
        Column(
            f"Unused interval ({currency})",
            came.of(lambda a: a.early_money),
            MONEY_OR_DASH,
            width=12,
        ),
        Column(
            f"Late out ({currency})", leaves.of(lambda a: a.late_money), MONEY_OR_DASH, width=12
        ),
        *(
            [
                Column(
                    f"Away from Wanted in ({currency})",
                    came.of(lambda a: a.wanted_money),
                    MONEY_OR_DASH,
                    width=12,
                )
            ]
            if view.has_wanted_costs
            else []
        ),
        Column(f"Price earned ({currency})", came.of(lambda a: a.price), MONEY_OR_DASH, width=12),
        Column("Work from first day (man-hours)", came.of(lambda a: a.man_hours), HOURS, width=11),
    )


@dataclass(frozen=True, slots=True)
class _Figure:
    """A figure of the account that stands at the placement where ``account`` finds it."""

    account: Callable[[Placement], CheckAccount | None]

    def of(self, value: Callable[[CheckAccount], Cell]) -> Callable[[Placement], Cell]:
        """Return the cell of a placement, None where the figure does not stand."""

        def cell(placement: Placement) -> Cell:
            found = self.account(placement)
            return None if found is None else value(found)

        return cell

    def exceeds(self, value: Callable[[CheckAccount], int]) -> Callable[[Placement], bool]:
        """Return whether the figure stands at a placement and is more than 0."""

        def exceeded(placement: Placement) -> bool:
            found = self.account(placement)
            return found is not None and value(found) > 0

        return exceeded


def _days_after_wanted(view: View, placement: Placement) -> int | None:
    """Return the days from ``Wanted in`` to the day on which the check comes into the base."""
    wanted_in = view.base.check(placement.check).wanted_in
    is_first = view.first_of[placement.check] is placement
    return None if wanted_in is None or not is_first else (placement.in_day - wanted_in).days
