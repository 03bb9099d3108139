"""The sheets of an answer about enquiries by place and by hour: slots, and man-hours on top."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from capacity.facts import Base
from capacity.questions.asking.differences import HoursMore
from capacity.questions.enquiries.values import EnquiryAnswer, Slot
from capacity.reports.enquiries.ways import TakingPlan
from capacity.reports.kit.formats import (
    DATE,
    HOURS_OR_DASH,
    MONEY,
    MONEY_OR_DASH,
    WHOLE,
    WHOLE_OR_DASH,
    WRAPPED,
)
from capacity.reports.kit.sheet import A3, Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.kit.week_column import monday_column
from capacity.reports.plan.stay_columns import bays
from capacity.words import LEAST_HOURS, LEAST_MONEY
from capacity.words.marks import TRIANGLE

SLOTS, HOURS_ON_TOP = "Slots", "Man-hours on top"


@dataclass(frozen=True, slots=True)
class _Ranked:
    """A slot with its rank among those of its enquiry, from 1 on, and the price offered."""

    rank: int
    slot: Slot
    price: float

    @property
    def over(self) -> float | None:
        """Return the price over the cost; None where no price is offered."""
        return self.price - self.slot.cost if self.price > 0 else None


@dataclass(frozen=True, slots=True)
class _Bought:
    """Hours that a plan buys more."""

    plan: TakingPlan
    more: HoursMore


def slots_sheet(book: Book, answers: Sequence[EnquiryAnswer], base: Base) -> None:
    """Add the sheet: a row a place, the cheapest of each enquiry first."""
    rows = [
        _Ranked(rank, slot, answer.enquiry.price)
        for answer in answers
        for rank, slot in enumerate(answer.slots, start=1)
    ]
    has_wanted = any(answer.enquiry.wanted_cost_per_day for answer in answers)
    columns = _slot_columns(base, has_wanted=has_wanted)
    write_sheet_table(book.sheet(SLOTS, paper=A3), columns, rows, frozen_columns=2)


def hours_on_top_sheet(book: Book, plans: Iterable[TakingPlan]) -> None:
    """Add the sheet: a row a plan, week and skill in which other hours are bought."""
    columns: tuple[Column[_Bought], ...] = (
        Column("Plan that takes it", lambda b: b.plan.name, width=30),
        Column("Enquiries", lambda b: ", ".join(b.plan.enquiries) or None, WRAPPED, width=30),
        Column("Week", lambda b: b.more.week, width=11),
        monday_column(lambda b: b.more.week),
        Column("Skill", lambda b: b.more.skill, width=16),
        Column("More overtime (h)", lambda b: b.more.overtime, HOURS_OR_DASH, width=12),
        Column("More contract (h)", lambda b: b.more.contract, HOURS_OR_DASH, width=12),
        Column("More overload (h)", lambda b: b.more.overload, HOURS_OR_DASH, _is_over, width=12),
        Column("Remarks", lambda b: f"{TRIANGLE} overload" if _is_over(b) else None, width=14),
    )
    rows = [_Bought(plan, more) for plan in plans for more in plan.hours_more]
    write_sheet_table(book.sheet(HOURS_ON_TOP), columns, rows)


def _slot_columns(base: Base, *, has_wanted: bool) -> tuple[Column[_Ranked], ...]:
    currency = base.currency
    heading = f"Away from Wanted in ({currency})"
    wanted: Column[_Ranked] = Column(
        heading, lambda r: r.slot.costs.wanted, MONEY_OR_DASH, width=14
    )
    return (
        Column("Enquiry", lambda r: r.slot.check, width=20),
        Column("Rank by cost", lambda r: r.rank, WHOLE, width=8),
        Column("Bay", lambda r: bays(r.slot.placements), WRAPPED, width=16),
        Column("In", lambda r: r.slot.in_day, DATE, width=17),
        Column("Out (bay free from this day)", lambda r: r.slot.out_day, DATE, width=17),
        Column("Days in the bay", lambda r: (r.slot.out_day - r.slot.in_day).days, WHOLE, width=8),
        Column("Pace", lambda r: r.slot.pace, WRAPPED, width=22),
        Column(
            "Unused interval (days before Latest in)",
            lambda r: r.slot.early_days,
            WHOLE_OR_DASH,
            width=11,
        ),
        Column(
            "Days late out",
            lambda r: r.slot.late_days,
            WHOLE_OR_DASH,
            lambda r: r.slot.late_days > 0,
            width=11,
        ),
        Column(f"Overtime ({currency})", lambda r: r.slot.costs.overtime, MONEY_OR_DASH, width=14),
        Column(f"Contract ({currency})", lambda r: r.slot.costs.contract, MONEY_OR_DASH, width=14),
        Column(
            f"Overload ({currency})",
            lambda r: r.slot.costs.overload,
            MONEY_OR_DASH,
            _overloads,
            width=14,
        ),
        Column(
            f"Unused interval ({currency})", lambda r: r.slot.costs.early, MONEY_OR_DASH, width=14
        ),
        Column(f"Late out ({currency})", lambda r: r.slot.costs.late, MONEY_OR_DASH, width=14),
        *([wanted] if has_wanted else []),
        Column(f"Cost: the break-even price ({currency})", lambda r: r.slot.cost, MONEY, width=15),
        Column(f"Price above break-even ({currency})", lambda r: r.over, MONEY, width=14),
        Column("Remarks", _slot_remarks, WRAPPED, width=30),
    )


def _slot_remarks(ranked: _Ranked) -> str | None:
    said = [f"{TRIANGLE} overload"] if _overloads(ranked) else []
    if ranked.slot.late_days:
        said.append("late out")
    if ranked.over is not None and ranked.over < -LEAST_MONEY:
        said.append("not worth it")
    return ", ".join(said) or None


def _overloads(ranked: _Ranked) -> bool:
    return ranked.slot.costs.overload >= LEAST_MONEY


def _is_over(bought: _Bought) -> bool:
    return bought.more.overload >= LEAST_HOURS
