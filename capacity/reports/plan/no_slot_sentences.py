"""Why an option is refused, in a planner's sentences."""

from capacity.facts import Base
from capacity.plans.outcome import Refusal
from capacity.words import day, hours, listed, money


def refusal_sentences(refusal: Refusal | None, base: Base) -> str:
    """Return why, and from which price on a plan was found that takes it."""
    if refusal is None:
        return "it would cost more than it earns, or found no room."
    if refusal.needed_price is None or refusal.in_day is None or refusal.out_day is None:
        stand = (
            f" {listed(refusal.in_the_way)} {_stand(refusal.in_the_way)} in most of its places."
            if (refusal.in_the_way)
            else ""
        )
        return f"no place was found for it without days past Latest in.{stand}"
    costs = refusal.needed_price
    told = (
        f"it pays {money(refusal.price, base)}, but in {refusal.bay} from "
        f"{day(refusal.in_day)} to {day(refusal.out_day)} it would have had to pay "
        f"{money(costs, base)}"
    )
    if refusal.labour_money > 0:
        told += f", {money(refusal.labour_money, base)} of it for man-hours"
    if refusal.dearest_hours:
        most = ", ".join(
            f"{hours(dear.hours)} of {dear.skill} in {dear.week}" for dear in refusal.dearest_hours
        )
        told += f" ({most})"
    told += "."
    if refusal.moved:
        told += f" {listed(refusal.moved)} would have to move for it."
    if refusal.given_up:
        told += f" {listed(refusal.given_up)} would have to be refused for it."
    return f"{told} This is the lowest price found, not one proven to be the lowest."


def _stand(names: tuple[str, ...]) -> str:
    return "stands" if len(names) == 1 else "stand"
