"""What booking enquiries comes to, in words."""

from collections.abc import Iterator

from capacity.questions.enquiries.booking import Booked
from capacity.reports.enquiries.contribution import contribution_in_words, counted
from capacity.reports.enquiries.ways import overloads
from capacity.reports.enquiries.wording import gain_in_words, moves_in_words, overloads_in_words
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.words import LEAST_MONEY, listed, money


def booked_in_words(booked: Booked) -> tuple[str, ...]:
    """Return sentences on what is booked, its slots, what it costs and who moves."""
    verdict = "worth it" if booked.is_worth_it else "not worth it at this price, booked anyway"
    return (f"Booked: {_slots(booked)}.", *_what_it_does(booked, verdict))


def to_be_booked_in_words(booked: Booked) -> tuple[str, ...]:
    """Return the same of what a person has not confirmed yet, and the overload that it adds."""
    verdict = "worth it" if booked.is_worth_it else "not worth it at this price"
    over = overloads(booked.combination.hours_more)
    return (
        f"To be booked: {_slots(booked)}.",
        *_what_it_does(booked, verdict),
        *([overloads_in_words(over)] if over else []),
    )


def _slots(booked: Booked) -> str:
    best = booked.combination
    return "; ".join(f"{one.check}: {stay_in_words(one.placements)}" for one in best.enquiries)


def _what_it_does(booked: Booked, verdict: str) -> Iterator[str]:
    best, base = booked.combination, booked.base
    prices = sum(one.price for one in best.enquiries)
    worth = gain_in_words(best.gain, base)
    yield (
        f"It adds {money(best.costs.money, base)} to the cost of the plan and earns "
        f"{money(prices, base)}: it {worth} ({verdict})."
    )
    if (found := counted(best.contribution)) is not None:
        yield contribution_in_words(found, base)
    if prices >= LEAST_MONEY:
        yield (
            "The price of a booked check is agreed, and no longer part of the cost of the plan; "
            "that of an option is."
        )
    yield f"Moves: {moves_in_words(best.moves)}."
    if booked.left_out:
        yield f"Not booked: {listed(booked.left_out)}."


NOTHING_BOOKED = (
    "Nothing is booked: no enquiry is worth it at this price. No plan with a booking is written; "
    "--book anyway books whatever has a slot."
)

NO_SLOT_AT_ALL = "Nothing is booked: no enquiry has a slot. No plan with a booking is written."
