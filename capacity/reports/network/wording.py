"""Sentences about bases planned together that the text and the workbook share."""

from collections.abc import Iterator

from capacity.facts import Base, Network
from capacity.network.values import NetworkPlanned, NotTaken, PlanOfBase, Taken
from capacity.words import counted, day, money, percent

HOW = (
    "An enquiry is an option: one base takes it at the most, at its price less the ferry cost to "
    "that base, and only where that lowers the cost of all bases together. Days past Latest in go "
    "first and are settled base by base: no booked check gives way to an enquiry."
)
BREAK_EVEN = (
    "The break-even price of an enquiry that is not taken is the lowest that was found at any base "
    "asked, ferry cost included, the other bases as they are; it is not proven to be the lowest."
)
ENDED_BY = {
    "proof": "It ended because nothing more was to be gained.",
    "time": "It ended because the time was up.",
    "stop": "It was stopped; these are the best plans until then.",
    "fault": "It ended early because a part of it broke down; these are the best plans until then.",
}


def any_base(network: Network) -> Base:
    """Return a base of the network, for the currency that all of them have."""
    return next(iter(network.bases.values()))


def how_expensive(answer: NetworkPlanned, network: Network) -> str:
    """Return what all plans cost, and how much others could save."""
    base = any_base(network)
    said = f"The plans of {counted(len(answer.bases), 'base')} cost {money(answer.cost, base)}"
    if answer.bound is None or answer.gap is None:
        return f"{said}; how much better ones could still save is not known."
    left = answer.cost - answer.bound
    if left < 0.5:
        return f"{said}; it is proven that no plans with as few days past Latest in cost less."
    return (
        f"{said}; others with as few days past Latest in could still save at most "
        f"{money(left, base)} ({percent(answer.gap)}); this is proven."
    )


def how_late(answer: NetworkPlanned) -> str:
    """Return the days past ``Latest in`` of all bases."""
    if not answer.days_past:
        return "No check comes in past its Latest in, and every booked check has a slot."
    said = f"{counted(answer.days_past, 'day')} past Latest in at all bases together"
    if answer.days_bound >= answer.days_past:
        return f"{said}, which is proven to be the fewest."
    return f"{said}; {answer.days_bound} are proven to be needed."


def of_base(one: PlanOfBase) -> str:
    """Return what a base spends and earns."""
    return (
        f"{one.name}: cost {money(one.cost, one.base)} (spends {money(one.spent, one.base)}, earns "
        f"{money(one.earned, one.base)}), {counted(one.days_past, 'day')} past Latest in"
    )


def of_taken(one: Taken, network: Network) -> str:
    """Return the slot of an enquiry that is taken, and what is earned by it."""
    base = any_base(network)
    ferry = f" less ferry cost {money(one.ferry_cost, base)}" if one.ferry_cost else ""
    return (
        f"takes {one.check} into {one.bay}, in {day(one.in_day)}, out {day(one.out_day)}, for "
        f"{money(one.price, base)}{ferry}"
    )


def of_not_taken(one: NotTaken, network: Network) -> str:
    """Return that an enquiry is not taken, and from which price on it would be worth it."""
    base = any_base(network)
    said = f"{one.check}: not taken at {money(one.price, base)}"
    if one.needed_price is None:
        return f"{said}; no break-even price was found"
    return f"{said}; break-even price {money(one.needed_price, base)}, at {one.at}"


def all_sentences(answer: NetworkPlanned, network: Network) -> Iterator[str]:
    """Yield what there is to say of all bases together."""
    yield how_expensive(answer, network)
    yield how_late(answer)
    yield ENDED_BY[answer.stopped_by]
