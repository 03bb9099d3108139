"""Answers about enquiries as tables; money is in the base's currency, hours are man-hours."""

from collections.abc import Callable, Sequence
from math import ceil

from capacity.facts import Base
from capacity.questions.asking.contribution import Contribution
from capacity.questions.asking.differences import Costs, HoursMore, Move
from capacity.questions.enquiries.values import EnquiryAnswer
from capacity.reports.enquiries.contribution import counted_contribution
from capacity.reports.enquiries.ways import Way, overloads
from capacity.reports.enquiries.wording import move_in_words, told_way, verdict
from capacity.reports.plan.stay_columns import bays, stay_in_words
from capacity.words import LEAST_HOURS, LEAST_MONEY, week_dates
from capacity.words.marks import TRIANGLE
from ui.rows import TableRow

OVERLOAD = f"{TRIANGLE} overload"
TOGETHER = "Cost in all: the break-even price"

COST_KINDS: tuple[tuple[str, Callable[[Costs], float]], ...] = (
    ("Overtime", lambda costs: costs.overtime),
    ("Contract labour", lambda costs: costs.contract),
    ("Overload", lambda costs: costs.overload),
    ("Days before Latest in, this aircraft", lambda costs: costs.early),
    ("Days late out, this aircraft", lambda costs: costs.late),
    ("Days away from Wanted in, this aircraft", lambda costs: costs.wanted),
    ("Days before Latest in, other checks", lambda costs: costs.early_of_others),
    ("Days late out, other checks", lambda costs: costs.late_of_others),
    ("Days away from Wanted in, other checks", lambda costs: costs.wanted_of_others),
    ("Prices of options no longer taken", lambda costs: costs.prices_of_others),
)


def overview_table(answers: Sequence[EnquiryAnswer], base: Base) -> list[TableRow]:
    """Return a line an enquiry: the verdict, and the way to take it that the verdict speaks of."""
    ways = [told_way(answer) for answer in answers]
    told = contribution_columns([counted_contribution(way, base) for way in ways], base)
    return [
        _overview(answer, way, more, base)
        for answer, way, more in zip(answers, ways, told, strict=True)
    ]


def _overview(answer: EnquiryAnswer, way: Way | None, more: TableRow, base: Base) -> TableRow:
    return {
        "Enquiry": answer.enquiry.name,
        "Verdict": verdict(answer).value,
        f"Price offered ({base.currency})": whole(answer.enquiry.price),
        f"Break-even price ({base.currency})": None
        if way is None
        else break_even(way.lowest_price),
        **more,
        "Bay": "" if way is None else bays(way.placements),
        "In": None if way is None else way.in_day,
        "Out": None if way is None else way.out_day,
        "Days late out": None if way is None else way.late_days,
        "Checks moved": "" if way is None else moves_in_words(way.moves),
        "Overload": OVERLOAD if way is not None and overloads(way.hours_more) else "",
    }


def contribution_columns(found: Sequence[Contribution | None], base: Base) -> list[TableRow]:
    """Return the columns of contributions, a row each; none where not one of them is counted."""
    if not any(found):
        return [{} for _ in found]
    return [
        {
            f"Contribution ({base.currency})": None if one is None else whole(one.money),
            f"Contribution per man-hour ({base.currency})": _per_man_hour(one),
        }
        for one in found
    ]


def _per_man_hour(one: Contribution | None) -> float | None:
    return None if one is None or one.per_man_hour is None else round(one.per_man_hour, 2)


def costs_table(ways: Sequence[Way], base: Base) -> list[TableRow]:
    """Return a line a kind of cost that there is, a column a way to take the enquiry."""
    kinds = [(kind, [of(way.costs) for way in ways]) for kind, of in COST_KINDS]
    kinds.append(
        ("What the moves would save without this aircraft", [w.better_without for w in ways])
    )
    rows = [(kind, costs) for kind, costs in kinds if any(abs(c) >= LEAST_MONEY for c in costs)]
    rows.append((TOGETHER, [way.lowest_price for way in ways]))
    return [
        {
            "Kind of cost": kind,
            **{
                f"{way.name} ({base.currency})": (break_even if kind == TOGETHER else whole)(cost)
                for way, cost in zip(ways, costs, strict=True)
            },
        }
        for kind, costs in rows
    ]


def slots_table(answer: EnquiryAnswer, base: Base) -> list[TableRow]:
    """Return a line a slot that the aircraft could have with nobody moved, the cheapest first."""
    return [
        {
            "Bay": ", ".join(slot.bays),
            "In": slot.in_day,
            "Out": slot.out_day,
            "Pace": slot.pace,
            f"Break-even price ({base.currency})": break_even(slot.cost),
            f"Overtime ({base.currency})": whole(slot.costs.overtime),
            f"Contract ({base.currency})": whole(slot.costs.contract),
            f"Overload ({base.currency})": whole(slot.costs.overload),
            "Days late out": slot.late_days,
            f"Cost of days late out ({base.currency})": whole(slot.costs.late),
        }
        for slot in answer.slots
    ]


def curve_table(answer: EnquiryAnswer, base: Base) -> list[TableRow]:
    """Return what the curve shows in words and numbers, a line a week."""
    return [
        {
            "Week": price.week,
            "From": week_dates(price.week)[0],
            f"Break-even price ({base.currency})": (
                None if price.cost is None else break_even(price.cost)
            ),
            "Bay of the cheapest slot": "no slot"
            if price.slot is None
            else ", ".join(price.slot.bays),
            "In": None if price.slot is None else price.slot.in_day,
            "Out": None if price.slot is None else price.slot.out_day,
        }
        for price in answer.curve
    ]


def hours_table(hours_more: Sequence[HoursMore]) -> list[TableRow]:
    """Return a line a week and skill in which other hours are bought than without the enquiry."""
    over = overloads(hours_more)
    return [
        {
            "Week": more.week,
            "From": week_dates(more.week)[0],
            "Skill": more.skill,
            "More overtime (man-hours)": tenths(more.overtime),
            "More contract labour (man-hours)": tenths(more.contract),
            "More overload (man-hours)": tenths(more.overload),
            "Overload": OVERLOAD if more in over else "",
        }
        for more in hours_more
        if max(map(abs, (more.overtime, more.contract, more.overload))) >= LEAST_HOURS
    ]


def moves_table(moves: Sequence[Move], base: Base) -> list[TableRow]:
    """Return a line a check that would move, with its slot now and then."""
    return [
        {
            "Check": move.check,
            "Aircraft": base.check(move.check).aircraft,
            "Customer": base.check(move.check).customer,
            "Status": base.check(move.check).status.value,
            "What moves": move_in_words(move),
            "Days later (minus: earlier)": move.days,
            "Slot now": stay_in_words(move.before),
            "Slot then": stay_in_words(move.after),
        }
        for move in moves
    ]


def moves_in_words(moves: Sequence[Move]) -> str:
    """Return who moves and how, or that nobody does."""
    return ", ".join(move_in_words(move) for move in moves) or "nobody"


def whole(amount: float) -> int:
    """Return money in whole units."""
    return round(amount)


def break_even(amount: float) -> int:
    """Return a price rounded up to whole units, as the sentences state it: never one too low."""
    return max(0, ceil(amount - LEAST_MONEY))


def tenths(hours: float) -> float:
    """Return man-hours with one decimal; a rounding remainder below 0 is 0."""
    return round(hours, 1) or 0.0
