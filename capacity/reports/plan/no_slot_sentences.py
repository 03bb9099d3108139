"""Why an option is not taken, in a planner's sentences."""

from capacity.facts import Base
from capacity.plans.outcome import Refusal
from capacity.words import day, hours, listed, money


def refusal_sentences(refusal: Refusal | None, base: Base) -> str:
    """Return why, and the lowest price from which a plan was found that takes it."""
    if refusal is None:
        return "it would cost more than it earns, or has no slot."
    if refusal.needed_price is None or refusal.in_day is None or refusal.out_day is None:
        others = listed(refusal.in_the_way)
        way = f" Most of its slots are taken by {others}." if others else ""
        return f"no slot was found for it without days past Latest in.{way}"
    told = (
        f"its price is {money(refusal.price, base)}; in {refusal.bay} from "
        f"{day(refusal.in_day)} to {day(refusal.out_day)} it costs "
        f"{money(refusal.needed_price, base)}"
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
        told += f" {listed(refusal.given_up)} would not be taken with it."
    return f"{told} This is the lowest cost found, not proven to be the lowest."
