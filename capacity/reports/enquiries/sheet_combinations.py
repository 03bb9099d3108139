"""The sheet ``Combinations``: which enquiries to take together, the next best, and each alone."""

from dataclasses import dataclass
from math import fsum

from capacity.facts import Base
from capacity.questions.enquiries.values import AloneGain, Combination, CombinationAnswer, Enquiry
from capacity.reports.enquiries.contribution import counted
from capacity.reports.enquiries.ways import overloads, ranked
from capacity.reports.enquiries.wording import (
    NO_ENQUIRY,
    moves_in_words,
    overload_list,
    set_in_words,
    set_proof,
)
from capacity.reports.kit import formats
from capacity.reports.kit.formats import DATE, MONEY, MONEY_OR_DASH, SECTION, WHOLE, WRAPPED
from capacity.reports.kit.paragraphs import write_paragraphs
from capacity.reports.kit.sheet import A3, Book, Sheet
from capacity.reports.kit.table import Column, write_table
from capacity.reports.plan.stay_columns import bays
from capacity.words import LEAST_MONEY

SHEET = "Combinations"

WIDTHS = (8, 30, 17, 17, 17, 15, 15, 15, 15, 15, 15, 30, 30, 36, 16, 16)
LAST = len(WIDTHS) - 1

EXPLAINED = (
    "Gain: by how much the plan that takes the combination costs less than the plan as it is, "
    "prices of the enquiries included. Two enquiries that are worth it "
    "alone may not be worth it together: they may need the same bay or the same hours."
)


@dataclass(frozen=True, slots=True)
class _Ranked:
    """A set with its rank, 1 for the one that gains most."""

    rank: int
    one: Combination


@dataclass(frozen=True, slots=True)
class _Placed:
    """An enquiry as it stands in the plan of a set."""

    rank: int
    enquiry: Enquiry


@dataclass(frozen=True, slots=True)
class _Alone:
    """What an enquiry gains by itself, and the ranks of the sets that it is in."""

    alone: AloneGain
    in_sets: tuple[int, ...]


def sets_sheet(book: Book, sets: CombinationAnswer, base: Base) -> None:
    """Add the sheet: the sets by gain, the places in them, and each enquiry by itself."""
    sheet = book.sheet(SHEET, paper=A3)
    sheet.widths(WIDTHS)
    rows = [_Ranked(rank, one) for rank, one in enumerate(ranked(sets), start=1)]
    sheet.write(0, 0, "Which enquiries to accept together", formats.TITLE)
    best = f"{set_in_words(sets.best, 1, base)}."
    row = write_paragraphs(sheet, 1, (best,), formats.VERDICT, WIDTHS)
    row = write_paragraphs(sheet, row, (EXPLAINED,), formats.NOTE, WIDTHS) + 1
    row = _section(sheet, row, "Combinations by gain")
    row = write_table(sheet, row, _set_columns(base), rows) + 1
    row = _section(sheet, row, "Slots of the enquiries in each combination")
    placed = [
        _Placed(ranked_.rank, enquiry) for ranked_ in rows for enquiry in ranked_.one.enquiries
    ]
    row = write_table(sheet, row, _placed_columns(base), placed) + 1
    row = _section(sheet, row, "Each enquiry by itself, with nobody moved")
    alone = [
        _Alone(alone, tuple(r.rank for r in rows if alone.check in r.one.names))
        for alone in sets.alone
    ]
    write_table(sheet, row, _alone_columns(base), alone)


def _section(sheet: Sheet, row: int, title: str) -> int:
    sheet.write_row(row, [title, *[None] * LAST], SECTION)
    return row + 1


def _set_columns(base: Base) -> tuple[Column[_Ranked], ...]:
    currency = base.currency

    def look(heading: str) -> str:
        return f"{heading} ({currency})"

    return (
        Column("Rank", lambda r: r.rank, WHOLE, width=WIDTHS[0]),
        Column(
            "Enquiries", lambda r: ", ".join(r.one.names) or NO_ENQUIRY, WRAPPED, width=WIDTHS[1]
        ),
        Column(look("Gain"), lambda r: r.one.gain, MONEY, lambda r: r.one.gain < -LEAST_MONEY, 17),
        Column(
            look("Most that this or any combination below it can gain"),
            lambda r: "none proven" if r.one.most_gain is None else r.one.most_gain,
            MONEY,
            width=17,
        ),
        Column(
            look("Of the gain: by moves that need no enquiry"),
            lambda r: r.one.gain_of_moves,
            MONEY_OR_DASH,
            width=17,
        ),
        Column(
            look("Prices"), lambda r: sum(o.price for o in r.one.enquiries), MONEY_OR_DASH, width=15
        ),
        Column(look("Overtime"), lambda r: r.one.costs.overtime, MONEY_OR_DASH, width=15),
        Column(look("Contract"), lambda r: r.one.costs.contract, MONEY_OR_DASH, width=15),
        Column(look("Overload"), lambda r: r.one.costs.overload, MONEY_OR_DASH, width=15),
        Column(
            look("Their unused interval and days late out"),
            lambda r: r.one.costs.early + r.one.costs.late + r.one.costs.wanted,
            MONEY_OR_DASH,
            width=15,
        ),
        Column(
            look("Other checks: days, options not taken"),
            lambda r: _others(r.one),
            MONEY_OR_DASH,
            width=15,
        ),
        Column("Proven", lambda r: set_proof(r.one, r.rank, base), WRAPPED, width=30),
        Column("Who would move", lambda r: moves_in_words(r.one.moves), WRAPPED, width=30),
        Column(
            "Weeks with more overload",
            lambda r: overload_list(overloads(r.one.hours_more)),
            WRAPPED,
            lambda r: bool(overloads(r.one.hours_more)),
            width=36,
        ),
        Column(look("Contribution"), lambda r: _contribution(r.one), MONEY, width=16),
        Column(look("Contribution per man-hour"), lambda r: _per_man_hour(r.one), MONEY, width=16),
    )


def _contribution(one: Combination) -> float | None:
    found = counted(one.contribution)
    return None if found is None else found.money


def _per_man_hour(one: Combination) -> float | None:
    found = counted(one.contribution)
    return None if found is None else found.per_man_hour


def _placed_columns(base: Base) -> tuple[Column[_Placed], ...]:
    return (
        Column("Rank", lambda p: p.rank, WHOLE, width=WIDTHS[0]),
        Column("Enquiry", lambda p: p.enquiry.check, width=WIDTHS[1]),
        Column("Bay", lambda p: bays(p.enquiry.placements), WRAPPED, width=17),
        Column("In", lambda p: p.enquiry.placements[0].in_day, DATE, width=17),
        Column("Out", lambda p: p.enquiry.placements[-1].out_day, DATE, width=17),
        Column(f"Price ({base.currency})", lambda p: p.enquiry.price, MONEY, width=15),
    )


def _alone_columns(base: Base) -> tuple[Column[_Alone], ...]:
    return (
        Column("", lambda a: None, width=WIDTHS[0]),
        Column("Enquiry", lambda a: a.alone.check, width=WIDTHS[1]),
        Column(
            f"Gain by itself ({base.currency})",
            lambda a: "no slot" if a.alone.gain is None else a.alone.gain,
            MONEY,
            width=17,
        ),
        Column("In the best combination", lambda a: "yes" if 1 in a.in_sets else "no", width=17),
        Column("In combinations", lambda a: ", ".join(map(str, a.in_sets)) or "none", width=17),
    )


def _others(one: Combination) -> float:
    costs = one.costs
    return fsum(
        (
            costs.early_of_others,
            costs.late_of_others,
            costs.wanted_of_others,
            costs.prices_of_others,
        )
    )
