"""The answer about enquiries in lines for a terminal."""

from collections.abc import Iterator, Sequence

from capacity.facts import Base
from capacity.questions.asking.differences import Move
from capacity.questions.enquiries.values import CombinationAnswer, EnquiryAnswer
from capacity.reports.enquiries.ways import Way, overloads, ranked, ways_of
from capacity.reports.enquiries.wording import (
    COST_MEANING,
    better_by_itself,
    move_in_words,
    named,
    overload_list,
    set_in_words,
    verdict,
    verdict_in_words,
)
from capacity.reports.kit.cell_text import printable
from capacity.reports.kit.left_out import left_out
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.reports.plan.wording import CAUTION
from capacity.words import LEAST_MONEY, money, week_dates
from capacity.words import day as as_day

MOST_ENQUIRIES, MOST_WEEKS, MOST_LINES = 12, 6, 6
"""What is shown of each list; the workbook has all of it."""


def enquiries_in_words(
    answers: Sequence[EnquiryAnswer], sets: CombinationAnswer, base: Base
) -> str:
    """Return what was found for each enquiry and which to accept together, in plain text."""
    return "\n".join(printable(line).rstrip() for line in _lines(answers, sets, base))


def _lines(answers: Sequence[EnquiryAnswer], sets: CombinationAnswer, base: Base) -> Iterator[str]:
    yield f"Enquiries to {base.name}"
    yield COST_MEANING
    for answer in answers[:MOST_ENQUIRIES]:
        yield from _enquiry(answer, base, with_weeks=len(answers) == 1)
    yield from left_out(answers, MOST_ENQUIRIES, "enquiry", indent="")
    yield from _sets(sets, base)
    if better := better_by_itself(answers, sets, base):
        yield better
    yield CAUTION


def _enquiry(answer: EnquiryAnswer, base: Base, *, with_weeks: bool) -> Iterator[str]:
    enquiry = answer.enquiry
    yield f"{enquiry.name} ({enquiry.type}, {enquiry.package}): {verdict(answer).value}"
    yield f"  {verdict_in_words(answer, base)}"
    for way in ways_of(answer):
        yield f"  {way.name}: {stay_in_words(way.placements)}"
        yield f"    {_costs(way, base)}"
        if weeks := overload_list(overloads(way.hours_more)[:MOST_WEEKS]):
            yield f"    overload: {weeks}"
        if way.moves:
            yield f"    moves: {_moves(way.moves)}"
    if with_weeks:
        yield from _weeks(answer, base)


def _costs(way: Way, base: Base) -> str:
    costs = way.costs
    parts = (
        ("overtime", costs.overtime),
        ("contract", costs.contract),
        ("overload", costs.overload),
        ("its unused interval", costs.early),
        ("its days late out", costs.late),
        ("its days away from Wanted in", costs.wanted),
        ("unused interval of others", costs.early_of_others),
        ("days late out of others", costs.late_of_others),
        ("days away from Wanted in of others", costs.wanted_of_others),
        ("options not taken", costs.prices_of_others),
        ("what the moves save in any case", way.better_without),
    )
    split = [f"{name} {money(value, base)}" for name, value in parts if abs(value) >= LEAST_MONEY]
    if not split:
        return "adds no cost"
    return f"cost {money(way.lowest_price, base)}: {', '.join(split)}"


def _weeks(answer: EnquiryAnswer, base: Base) -> Iterator[str]:
    """Tell the cheapest place of each week in, with nobody moved."""
    yield "  Cost by week in, if nobody moves:"
    for price in answer.curve[: 2 * MOST_WEEKS]:
        monday = as_day(week_dates(price.week)[0])
        if price.slot is None:
            said = "no slot"
        else:
            said = f"{money(price.slot.cost, base)} ({stay_in_words(price.slot.placements)})"
        yield f"    {price.week} from {monday:<15} {said}"
    yield from left_out(answer.curve, 2 * MOST_WEEKS, "week", indent="    ")


def _sets(sets: CombinationAnswer, base: Base) -> Iterator[str]:
    best, *others = ranked(sets)
    yield f"Best combination: {set_in_words(best, 1, base)}."
    for enquiry in best.enquiries[:MOST_LINES]:
        yield f"  {enquiry.check}: {stay_in_words(enquiry.placements)}"
    yield from left_out(best.enquiries, MOST_LINES)
    if best.moves:
        yield f"  moves: {_moves(best.moves)}"
    for rank, one in enumerate(others[:MOST_LINES], start=2):
        yield f"  next best: {set_in_words(one, rank, base)}"


def _moves(moves: Sequence[Move]) -> str:
    return named([move_in_words(move) for move in moves], "; ")
