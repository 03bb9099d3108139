"""What booking enquiries comes to, in words."""

from capacity.questions.enquiries.booking import Booked
from capacity.reports.enquiries.wording import gain_in_words, moves_in_words
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.words import LEAST_MONEY, listed, money


def booked_in_words(booked: Booked) -> tuple[str, ...]:
    """Return sentences on what is booked, its slots, what it costs and who moves."""
    best, base = booked.combination, booked.base
    slots = "; ".join(f"{one.check}: {stay_in_words(one.placements)}" for one in best.enquiries)
    prices = sum(one.price for one in best.enquiries)
    worth = gain_in_words(best.gain, base)
    verdict = "worth it" if booked.is_worth_it else "not worth it at this price, booked anyway"
    said = [
        f"Booked: {slots}.",
        f"It adds {money(best.costs.money, base)} to the cost of the plan and earns "
        f"{money(prices, base)}: it {worth} ({verdict}).",
    ]
    if prices >= LEAST_MONEY:
        said.append(
            "The price of a booked check is agreed, and no longer part of the cost of the plan; "
            "that of an option is."
        )
    said.append(f"Moves: {moves_in_words(best.moves)}.")
    if booked.left_out:
        said.append(f"Not booked: {listed(booked.left_out)}.")
    return tuple(said)


NOTHING_BOOKED = (
    "Nothing is booked: no enquiry is worth it at this price. No plan with a booking is written; "
    "--book anyway books whatever has a slot."
)

NO_SLOT_AT_ALL = "Nothing is booked: no enquiry has a slot. No plan with a booking is written."
