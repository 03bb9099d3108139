"""The sheet ``Moves`` of an answer about enquiries: who else would stand elsewhere, and where."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from capacity.facts import Base, Check
from capacity.plans.plan import Placement
from capacity.questions.asking.differences import Move
from capacity.reports.enquiries.ways import TakingPlan, days_late
from capacity.reports.kit.formats import SIGNED_DAYS, WRAPPED
from capacity.reports.kit.sheet import A3, Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.plan.stay_columns import bays, stay_columns
from capacity.words import days

SHEET = "Moves"


@dataclass(frozen=True, slots=True)
class _Moved:
    """A check that stands elsewhere in a plan that takes enquiries."""

    plan: TakingPlan
    check: Check
    move: Move

    @property
    def before(self) -> Sequence[Placement]:
        return self.move.before

    @property
    def after(self) -> Sequence[Placement]:
        return self.move.after

    @property
    def days_later(self) -> int | None:
        """Return by how much it comes in later, None where it does not stand in both plans."""
        return self.move.days if self.before and self.after else None


def moves_sheet(book: Book, plans: Iterable[TakingPlan], base: Base) -> None:
    """Add the sheet: a row a plan and check that stands elsewhere in it."""
    columns: tuple[Column[_Moved], ...] = (
        Column("Plan that takes it", lambda m: m.plan.name, width=30),
        Column("Check that moves", lambda m: m.check.name, width=18),
        Column("Aircraft", lambda m: m.check.aircraft, width=16),
        Column("Customer", lambda m: m.check.customer or None, width=18),
        *stay_columns("before", lambda m: m.before),
        *stay_columns("then", lambda m: m.after),
        Column("In later by (days)", lambda m: m.days_later, SIGNED_DAYS, width=11),
        Column("Remarks", _remarks, WRAPPED, _is_late, width=34),
    )
    rows = [_Moved(plan, base.check(move.check), move) for plan in plans for move in plan.moves]
    write_sheet_table(book.sheet(SHEET, paper=A3), columns, rows, frozen_columns=2)


def _remarks(moved: _Moved) -> str | None:
    """Say what is worse than a move: given up, in too late, out too late."""
    if not moved.after:
        return "not taken"
    said = [] if moved.before else ["taken in"]
    if past := _days_past(moved):
        said.append(f"in {days(past)} past Latest in")
    if late := days_late(moved.check, moved.after):
        said.append(f"{days(late)} late out")
    if moved.days_later == 0 and bays(moved.before) == bays(moved.after):
        said.append("other stage days")
    return "; ".join(said) or None


def _is_late(moved: _Moved) -> bool:
    return bool(moved.after) and bool(_days_past(moved) or days_late(moved.check, moved.after))


def _days_past(moved: _Moved) -> int:
    return max(0, (moved.after[0].in_day - moved.check.latest_in).days)
