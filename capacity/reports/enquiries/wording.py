"""What the answers about enquiries say in words, for the workbook and the terminal."""

from collections.abc import Sequence
from enum import StrEnum
from math import ceil

from capacity.facts import Base
from capacity.questions.asking.differences import HoursMore, Move
from capacity.questions.asking.ways_tried import proof_speaks_of
from capacity.questions.enquiries.values import Combination, CombinationAnswer, EnquiryAnswer
from capacity.reports.enquiries.contribution import contribution_in_words, contribution_of_way
from capacity.reports.enquiries.ways import Way, overloads, way_of_cheapest, way_with_moves
from capacity.reports.plan.stay_columns import bays
from capacity.words import LEAST_MONEY, counted, days, hours, money

COST_MEANING = (
    "Cost is what this aircraft adds to the cost of the plan, its own price left out. It is the "
    "break-even price. Regular man-hours and material are not in it."
)

NO_ENQUIRY = "none of the enquiries"

MOST_NAMED = 6
"""Names in a sentence; the sheets have all of them."""


class Verdict(StrEnum):
    """What becomes of an enquiry at the price that is offered."""

    PAYS = "worth it"
    PAYS_WITH_MOVES = "worth it if others move"
    PAYS_NOT = "not worth it at this price"
    NO_PRICE = "no price offered"
    NO_SLOT = "no slot"
    NO_SLOT_KNOWN = "no slot known"


def verdict(answer: EnquiryAnswer) -> Verdict:
    """Return the verdict on an enquiry; one that pays with nobody moved needs no moves.

    That there is no slot is said only where that is proven, whoever moves.
    """
    cheapest, moved = way_of_cheapest(answer), way_with_moves(answer)
    if cheapest is None and moved is None:
        return Verdict.NO_SLOT if answer.proven_no_way else Verdict.NO_SLOT_KNOWN
    if answer.enquiry.price <= 0:
        return Verdict.NO_PRICE
    if cheapest is not None and pays(cheapest):
        return Verdict.PAYS
    if moved is not None and pays(moved):
        return Verdict.PAYS_WITH_MOVES if moved.moves else Verdict.PAYS
    return Verdict.PAYS_NOT


def pays(way: Way) -> bool:
    """Whether the price offered is no less than the lowest that pays: a cent is no loss."""
    return way.enquiry.price >= way.lowest_price - LEAST_MONEY


def told_way(answer: EnquiryAnswer) -> Way | None:
    """Return the way that the verdict speaks of: with nobody moved if that pays, or is cheapest."""
    cheapest, moved = way_of_cheapest(answer), way_with_moves(answer)
    if cheapest is None or moved is None:
        return cheapest or moved
    if verdict(answer) is Verdict.PAYS and pays(cheapest):
        return cheapest
    return moved if moved.lowest_price < cheapest.lowest_price - LEAST_MONEY else cheapest


def verdict_in_words(answer: EnquiryAnswer, base: Base) -> str:
    """Return the verdict with its figures, what it hangs on, and what is proven."""
    way = told_way(answer)
    if way is None:
        return _no_slot(answer) + (_speaks_of(answer, base) if answer.proven_no_way else "")
    said = [_price_in_words(way, verdict(answer), base)]
    if found := contribution_of_way(way, base):
        said.append(contribution_in_words(found, base))
    if way.late_days:
        said.append(f"It is {days(way.late_days)} late out.")
    if over := overloads(way.hours_more):
        said.append(overloads_in_words(over))
    if other := _better_with_moves(answer, way, base):
        said.append(other)
    if proof := proof_in_words(answer, base):
        said.append(proof + _speaks_of(answer, base))
    if way.better_without >= LEAST_MONEY:
        said.append(
            f"The moves alone, without the enquiry, would save {money(way.better_without, base)}: "
            "the plan is not the best one; plan again first."
        )
    return " ".join(said)


def _speaks_of(answer: EnquiryAnswer, base: Base) -> str:
    """Return of which plans a proof speaks; nothing where it speaks of all of them."""
    return proof_speaks_of(base.replace(checks=(*base.checks, answer.enquiry)))


def lowest_price(amount: float, base: Base) -> str:
    """Return a price rounded up to whole units, so that it is never one that does not pay."""
    return money(max(0, ceil(amount - LEAST_MONEY)), base)


def proof_in_words(answer: EnquiryAnswer, base: Base) -> str | None:
    """Return what is proven of cheaper ways by moves; None where no moves were searched."""
    moved, told = answer.with_moves, told_way(answer)
    if moved is None or told is None:
        return None
    if moved.proven:
        if told.moves:
            return "Proven: no other moves make it cheaper."
        if _saved_by_moves(answer, told) >= LEAST_MONEY:
            return "Proven: no other moves make it cheaper than that."
        return "Proven: moving others does not make it cheaper."
    if moved.least_break_even is None or moved.least_break_even < LEAST_MONEY:
        return "Not proven: other moves might make it cheaper."
    least = lowest_price(moved.least_break_even, base)
    return f"Not proven: other moves might make it cheaper, but not below {least}."


def overloads_in_words(over: Sequence[HoursMore]) -> str:
    """Return how many hours of overload it adds, and in how many weeks."""
    amount = hours(sum(more.overload for more in over))
    weeks = counted(len({more.week for more in over}), "week")
    return f"It adds {amount} of overload, in {weeks}."


def overload_list(over: Sequence[HoursMore]) -> str | None:
    """Return the weeks and skills one by one: ``2027-W01 Mechanic +95 h``; None for none."""
    return ", ".join(f"{m.week} {m.skill} +{hours(m.overload)}" for m in over) or None


def set_in_words(one: Combination, rank: int, base: Base) -> str:
    """Return what a combination gains and what is proven of it."""
    names = named(one.names) if one.enquiries else NO_ENQUIRY
    said = f"{names}: {gain_in_words(one.gain, base)}"
    if one.gain_of_moves >= LEAST_MONEY:
        said += f", of that {money(one.gain_of_moves, base)} by moves that need no enquiry"
    return f"{said}; {set_proof(one, rank, base)}"


def better_by_itself(
    answers: Sequence[EnquiryAnswer], sets: CombinationAnswer, base: Base
) -> str | None:
    """Name the enquiry that by itself gains more than the best combination; None where none does.

    A search for combinations that runs out of time may not come upon what is known of one enquiry.
    """
    gains = [
        (answer.enquiry.price - least, answer.enquiry.name)
        for answer in answers
        if (least := answer.lowest_break_even) is not None
    ]
    gain, name = max(gains, default=(0.0, ""))
    if gain < sets.best.gain + LEAST_MONEY:
        return None
    return (
        f"{name} alone {gain_in_words(gain, base)}, more than the combination: the search for "
        "combinations ran out of time. Give it more seconds, or let fewer checks move."
    )


def gain_in_words(gain: float, base: Base) -> str:
    """Return ``gains 500 EUR``, ``loses 500 EUR`` or ``breaks even``."""
    if abs(gain) < LEAST_MONEY:
        return "breaks even"
    return f"{'gains' if gain > 0 else 'loses'} {money(abs(gain), base)}"


def set_proof(one: Combination, rank: int, base: Base) -> str:
    """Return what is proven of a combination and those after it; the best is rank 1."""
    if one.proven:
        if rank == 1:
            return "proven: no combination gains more"
        return "proven: only the combinations above gain more"
    if one.most_gain is None:
        return "not proven: how much more could be gained is not known"
    others = "no combination" if rank == 1 else "no combination but those above"
    return f"not proven: {others} can gain more than {money(one.most_gain, base)}"


def move_in_words(move: Move) -> str:
    """Return ``B 3 days earlier``, ``B to N2`` or ``B not taken``."""
    if not move.after:
        return f"{move.check} not taken"
    if not move.before:
        return f"{move.check} taken"
    said = []
    if move.days:
        said.append(f"{days(abs(move.days))} {'later' if move.days > 0 else 'earlier'}")
    if bays(move.before) != bays(move.after):
        said.append(f"to {bays(move.after)}")
    return " ".join([move.check, *(said or ["with other days of stages"])])


def moves_in_words(moves: Sequence[Move]) -> str:
    """Return who moves where, all of them; ``nobody`` for no moves."""
    return "; ".join(move_in_words(move) for move in moves) or "nobody"


def named(names: Sequence[str], between: str = ", ") -> str:
    """Return some names, and how many more there are."""
    more = len(names) - MOST_NAMED
    shown = between.join(names[:MOST_NAMED])
    return f"{shown} and {more} more" if more > 0 else shown


def _price_in_words(way: Way, found: Verdict, base: Base) -> str:
    price, least = money(way.enquiry.price, base), lowest_price(way.lowest_price, base)
    if way.moves:
        names = named([move.check for move in way.moves])
        how = f"when {names} {'moves' if len(way.moves) == 1 else 'move'}"
    else:
        how = "with nobody moved"
    margin = way.enquiry.price - way.lowest_price
    offered = "No price" if found is Verdict.NO_PRICE else price
    if way.lowest_price < LEAST_MONEY:
        return f"{offered} is offered; it adds no cost to the plan {how}."
    said = f"{offered} is offered; the break-even price is {least} {how}"
    match found:
        case Verdict.NO_PRICE:
            return f"{said}."
        case Verdict.PAYS_NOT:
            return f"{said}: {lowest_price(-margin, base)} too little."
        case _:
            return f"{said}: {money(margin, base)} more than that."


def _better_with_moves(answer: EnquiryAnswer, told: Way, base: Base) -> str | None:
    """Tell by how much it is cheaper with moves, where the verdict speaks of none."""
    moved, saved = way_with_moves(answer), _saved_by_moves(answer, told)
    if moved is None or saved < LEAST_MONEY:
        return None
    names = named([move.check for move in moved.moves])
    return f"With {names} moved it would cost {money(saved, base)} less."


def _saved_by_moves(answer: EnquiryAnswer, told: Way) -> float:
    """Return by how much moves make an enquiry cheaper than the way told, 0 where it has them."""
    moved = way_with_moves(answer)
    if moved is None or told.moves or not moved.moves:
        return 0.0
    return max(0.0, told.lowest_price - moved.lowest_price)


def _no_slot(answer: EnquiryAnswer) -> str:
    if answer.proven_no_way:
        said = (
            "There is no slot for it, even if all who may move do: this is proven as long as "
            "nobody comes in further past Latest in for it."
        )
    else:
        said = "There is no slot for it if nobody moves, and none is known if others move."
    if answer.in_the_way:
        said += f" Most in the way: {named(answer.in_the_way)}."
    return said
