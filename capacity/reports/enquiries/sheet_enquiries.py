"""The sheet ``Overview`` of an answer about enquiries: verdicts, costs, places, overload weeks."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from capacity.facts import Base, Check
from capacity.questions.enquiries.values import CombinationAnswer, EnquiryAnswer
from capacity.reports.enquiries.contribution import counted_contribution
from capacity.reports.enquiries.ways import Way, overloads, ranked, way_with_moves, ways_of
from capacity.reports.enquiries.wording import (
    COST_MEANING,
    Verdict,
    better_by_itself,
    moves_in_words,
    overload_list,
    pays,
    set_in_words,
    told_way,
    verdict,
    verdict_in_words,
)
from capacity.reports.kit import formats
from capacity.reports.kit.formats import (
    DATE,
    HOURS_OR_DASH,
    MONEY,
    MONEY_OR_DASH,
    SECTION,
    WHOLE_OR_DASH,
    WRAPPED,
)
from capacity.reports.kit.paragraphs import write_paragraphs
from capacity.reports.kit.sheet import A3, Book, Cell, Sheet
from capacity.reports.kit.table import Column, write_table
from capacity.reports.plan.stay_columns import bays
from capacity.reports.plan.wording import CAUTION
from capacity.words import counted, day, days
from capacity.words.marks import TRIANGLE

Row = TypeVar("Row")

SHEET = "Overview"

WIDTHS = (20, 20, 46, 17, 17, 17, 15, 15, 15, 15, 15, 17, 17, 22, 16, 16)
LAST = len(WIDTHS) - 1

REFUSING = (Verdict.PAYS_NOT, Verdict.NO_SLOT, Verdict.NO_SLOT_KNOWN)

SHEETS = (
    ("Slots", "every slot that an enquiry could have without moving others, and its cost"),
    ("Cost by week", "the cheapest slot of each week in which an enquiry may come in"),
    ("Cost charts", "the same as a chart for each enquiry"),
    ("Man-hours on top", "more overtime, contract and overload hours, by week and skill"),
    ("Moves", "which other checks would move, and where to"),
    ("Combinations", "which enquiries to accept together, and the next best combinations"),
)


@dataclass(frozen=True, slots=True)
class _Weeks:
    """The weeks that one way to take an enquiry overloads, in words."""

    way: Way
    weeks: str


def enquiries_overview_sheet(
    book: Book, answers: Sequence[EnquiryAnswer], sets: CombinationAnswer, base: Base
) -> None:
    """Add the sheet, in the order in which a person asks."""
    sheet = book.sheet(SHEET, paper=A3)
    sheet.hide_gridlines()
    sheet.widths(WIDTHS)
    row = _title(sheet, answers, sets, base)
    _section(sheet, row, "Each enquiry by itself: is it worth it at the price offered?")
    row = write_table(sheet, row + 1, _verdict_columns(base), answers) + 1
    ways = [way for answer in answers for way in ways_of(answer)]
    _section(sheet, row, "Its slot, and what it costs")
    has_wanted = any(way.enquiry.wanted_cost_per_day for way in ways)
    row = write_table(sheet, row + 1, _way_columns(base, has_wanted=has_wanted), ways) + 1
    row = _overloads(sheet, row, ways)
    _section(sheet, row, "The other sheets")
    for number, line in enumerate(SHEETS, start=row + 1):
        sheet.write_row(number, line)


def _title(
    sheet: Sheet, answers: Sequence[EnquiryAnswer], sets: CombinationAnswer, base: Base
) -> int:
    sheet.write(0, 0, f"Enquiries to {base.name}", formats.TITLE)
    asked = counted(len(answers), "enquiry")
    sheet.write(
        1,
        0,
        f"{asked} asked about, added to a plan from {day(base.first_day)}, {base.weeks} weeks.",
    )
    best = f"Best combination: {set_in_words(ranked(sets)[0], 1, base)}."
    row = write_paragraphs(sheet, 3, (best,), formats.VERDICT, WIDTHS)
    if better := better_by_itself(answers, sets, base):
        row = write_paragraphs(sheet, row, (better,), formats.ALARM, WIDTHS)
    return write_paragraphs(sheet, row, (COST_MEANING, CAUTION), formats.NOTE, WIDTHS) + 1


def _verdict_columns(base: Base) -> tuple[Column[EnquiryAnswer], ...]:
    currency = base.currency
    columns: tuple[Column[EnquiryAnswer], ...] = (
        Column("Enquiry", lambda a: a.enquiry.name),
        Column("Verdict", lambda a: verdict(a).value, WRAPPED, lambda a: verdict(a) in REFUSING),
        Column("In words", lambda a: verdict_in_words(a, base), WRAPPED),
        Column("Earliest in", lambda a: a.enquiry.earliest_in, DATE),
        Column("Latest in", lambda a: a.enquiry.latest_in, DATE),
        Column("Agreed out", lambda a: _agreed(a.enquiry), DATE),
        Column(f"Price offered ({currency})", lambda a: a.enquiry.price, MONEY_OR_DASH),
        Column(
            f"Break-even price, no other check moved ({currency})", lambda a: a.break_even, MONEY
        ),
        Column(f"Break-even price, others moved ({currency})", _with_others_moved, MONEY),
        Column(
            f"Price above break-even ({currency})",
            _over,
            MONEY,
            lambda a: verdict(a) is Verdict.PAYS_NOT,
        ),
        Column("Is the break-even price proven?", _is_proven, WRAPPED),
        Column("Who would move", _who_moves, WRAPPED),
        Column("Aircraft type", lambda a: a.enquiry.type, WRAPPED),
        Column("Package", lambda a: a.enquiry.package, WRAPPED),
        Column(f"Contribution ({currency})", lambda a: _contribution(told_way(a), base), MONEY),
        Column(
            f"Contribution per man-hour ({currency})",
            lambda a: _per_man_hour(told_way(a), base),
            MONEY,
        ),
    )
    return _as_wide_as_the_sheet(columns)


def _agreed(enquiry: Check) -> Cell:
    if enquiry.agreed_days is not None:
        return f"{days(enquiry.agreed_days)} after in"
    return enquiry.agreed_out


def _as_wide_as_the_sheet(columns: tuple[Column[Row], ...]) -> tuple[Column[Row], ...]:
    return tuple(
        replace(column, width=width) for column, width in zip(columns, WIDTHS, strict=True)
    )


def _with_others_moved(answer: EnquiryAnswer) -> float | None:
    way = way_with_moves(answer)
    return way.lowest_price if way is not None and way.moves else None


def _over(answer: EnquiryAnswer) -> float | None:
    """Return by how much the price is over the lowest of the way that the verdict speaks of."""
    way = told_way(answer)
    if way is None or verdict(answer) is Verdict.NO_PRICE:
        return None
    return answer.enquiry.price - way.lowest_price


def _is_proven(answer: EnquiryAnswer) -> str | None:
    """Say for what the lowest price is proven; with nobody moved every place has been tried."""
    if answer.with_moves is not None:
        return "yes, whoever moves" if answer.with_moves.proven else "no, others may move"
    return "yes, with no other check moved" if answer.slots else None


def _who_moves(answer: EnquiryAnswer) -> str | None:
    way = told_way(answer)
    if way is None:
        return None
    return moves_in_words(way.moves)


def _way_columns(base: Base, *, has_wanted: bool) -> tuple[Column[Way], ...]:
    currency = base.currency
    columns: tuple[Column[Way], ...] = (
        Column("Enquiry", lambda w: w.enquiry.name),
        Column("With", lambda w: w.name),
        Column("Remarks", _remarks, WRAPPED),
        Column("Bay", lambda w: bays(w.placements), WRAPPED),
        Column("In", lambda w: w.in_day, DATE),
        Column("Out (bay free from this day)", lambda w: w.out_day, DATE),
        Column(
            "Days late out",
            lambda w: w.late_days,
            WHOLE_OR_DASH,
            lambda w: w.late_days > 0,
        ),
        Column(f"Overtime ({currency})", lambda w: w.costs.overtime, MONEY_OR_DASH),
        Column(f"Contract ({currency})", lambda w: w.costs.contract, MONEY_OR_DASH),
        Column(
            f"Overload ({currency})",
            lambda w: w.costs.overload,
            MONEY_OR_DASH,
            lambda w: bool(overloads(w.hours_more)),
        ),
        Column(f"Unused interval ({currency})", lambda w: w.costs.early, MONEY_OR_DASH),
        Column(f"Late out ({currency})", lambda w: w.costs.late, MONEY_OR_DASH),
        Column(
            f"Other checks: days, options not taken, savings of moves ({currency})",
            _others,
            MONEY_OR_DASH,
        ),
        Column(f"Cost: the break-even price ({currency})", lambda w: w.lowest_price, MONEY),
        Column("Man-hours (h)", lambda w: w.labour.man_hours if w.labour else None, HOURS_OR_DASH),
        Column(
            "Regular labour that it takes (h)",
            lambda w: w.labour.regular if w.labour else None,
            HOURS_OR_DASH,
        ),
    )
    columns = _as_wide_as_the_sheet(columns)
    if not has_wanted:
        return columns
    heading = f"Away from Wanted in (in the cost, {currency})"
    return (*columns, Column(heading, lambda w: w.costs.wanted, MONEY_OR_DASH, width=WIDTHS[-1]))


def _contribution(way: Way | None, base: Base) -> float | None:
    """Return what is left of the price; None where there is no price or nothing more to count."""
    found = counted_contribution(way, base)
    return None if found is None else found.money


def _per_man_hour(way: Way | None, base: Base) -> float | None:
    found = counted_contribution(way, base)
    return None if found is None else found.per_man_hour


def _others(way: Way) -> float:
    """Return what the others cost more, and what their moves would save without the enquiry."""
    costs = way.costs
    days = costs.early_of_others + costs.late_of_others + costs.wanted_of_others
    return days + costs.prices_of_others + way.better_without


def _remarks(way: Way) -> str | None:
    said = [f"pace: {way.pace}"] if way.pace not in (None, "normal") else []
    if overloads(way.hours_more):
        said.append(f"{TRIANGLE} overload")
    if way.late_days:
        said.append("late out")
    if way.enquiry.price > 0 and not pays(way):
        said.append("not worth it at the price offered")
    return ", ".join(said) or None


def _overloads(sheet: Sheet, row: int, ways: Sequence[Way]) -> int:
    """List the weeks in which more work finds nobody; return the first row below."""
    _section(sheet, row, "Weeks with more overload")
    rows = [
        _Weeks(way, weeks) for way in ways if (weeks := overload_list(overloads(way.hours_more)))
    ]
    if not rows:
        sheet.write(row + 1, 0, "None: no enquiry adds overload.")
        return row + 3
    for number, one in enumerate(rows, start=row + 1):
        sheet.write(number, 0, one.way.enquiry.name)
        sheet.write(number, 1, one.way.name)
        sheet.run(number, 2, LAST, one.weeks, WRAPPED)
        sheet.height(number, 15 * (1 + len(one.weeks) // int(sum(WIDTHS[2:]))))
    return row + 2 + len(rows)


def _section(sheet: Sheet, row: int, title: str) -> None:
    sheet.write_row(row, [title, *[None] * LAST], SECTION)
