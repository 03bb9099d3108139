"""What an enquiry contributes, in words."""

from math import ceil

from capacity.facts import Base
from capacity.questions.asking.contribution import Contribution, contribution_of
from capacity.reports.enquiries.ways import Way
from capacity.words import LEAST_HOURS, LEAST_MONEY, hours, listed, money


def contribution_of_way(way: Way, base: Base) -> Contribution | None:
    """Return what an enquiry contributes by a way; None where its labour is not known."""
    if way.labour is None:
        return None
    return contribution_of(base, way.enquiry, way.lowest_price, way.labour)


def counted_contribution(way: Way | None, base: Base) -> Contribution | None:
    """Return the contribution where a price is offered and labour or material are counted."""
    return counted(None if way is None else contribution_of_way(way, base))


def counted(found: Contribution | None) -> Contribution | None:
    """Return a contribution where a price is offered and labour or material are counted."""
    if found is None or found.price <= 0:
        return None
    return found if found.labour is not None or found.material >= LEAST_MONEY else None


def contribution_in_words(found: Contribution, base: Base) -> str:
    """Return what is left of the price, of what it is the rest, and what is not counted."""
    uncounted = "" if found.labour is not None else _uncounted(found)
    if found.labour is None and found.material < LEAST_MONEY:
        return uncounted
    after = [f"the added cost of the plan ({money(found.plan_cost, base)})"]
    if found.labour is not None:
        cost = money(found.labour, base)
        after.append(f"{hours(found.regular_hours)} of regular labour ({cost})")
    if found.material >= LEAST_MONEY:
        after.append(f"material ({money(found.material, base)})")
    if found.price <= 0:
        least = money(max(0, ceil(found.costs - LEAST_MONEY)), base)
        said = f"It takes a price of {least} to cover {listed(after)}."
    else:
        each = "" if found.per_man_hour is None else f", {per_man_hour(found.per_man_hour, base)}"
        said = f"Contribution: {money(found.money, base)}{each}, after {listed(after)}."
    return f"{said} {uncounted}".rstrip()


def per_man_hour(amount: float, base: Base) -> str:
    """Return ``12.35 EUR per man-hour``."""
    return f"{amount:,.2f} {base.currency} per man-hour"


def _uncounted(found: Contribution) -> str:
    """Say how much regular labour it takes that is not counted, for want of a rate."""
    if found.regular_hours < LEAST_HOURS:
        return "It takes no regular labour."
    return (
        f"It takes {hours(found.regular_hours)} of regular labour, which is not counted: the sheet "
        "Base has no Labour rate."
    )
