"""Checks moved by hand, held where they were put, as the column ``Held`` holds them."""

from collections.abc import Sequence
from dataclasses import replace

from capacity.facts import Base, Check, Status
from capacity.questions.by_hand.values import HandMove


def held_at(base: Base, move: HandMove) -> Base:
    """Return the base with a check held in the bay and on the day it is moved to.

    One taken off the bays is held no longer. A fixed check stays as it is.
    """
    return base.replace(
        checks=tuple(
            _held(check, move) if check.name == move.check else check for check in base.checks
        )
    )


def base_with_holds(base: Base, moves: Sequence[HandMove]) -> Base:
    """Return the base with every moved check held where the last of its moves put it."""
    for move in last_moves(moves):
        base = held_at(base, move)
    return base


def last_moves(moves: Sequence[HandMove]) -> tuple[HandMove, ...]:
    """Return the last move of each check, in order of the first move of each."""
    return tuple({move.check: move for move in moves}.values())


def _held(check: Check, move: HandMove) -> Check:
    if check.status is Status.FIXED:
        return check
    return replace(check, held_bay=move.bay or None, held_in=move.in_day)
