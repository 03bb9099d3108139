"""The old arrangement wherever it can still stand, the others at their cheapest places."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from capacity.slots.candidates import Slots
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.finding.cheapest_fill import cheapest_fill
from capacity.slots.program.choice import Choice
from capacity.slots.program.going_on import kept_beside
from capacity.slots.program.linear_form import days_form, money_form
from capacity.slots.program.program import Program

SECONDS = 10.0


def held_first(program: Program, old: Choice, held: NDArray[np.bool_]) -> Choice:
    """Return a choice of the ``held`` checks (checks,) only, as many placed as can be.

    They stay in their ``old`` columns when those stand together; else as near to them as the
    move prices in the program's money say.
    """
    chosen = np.where(held, old, -1)
    if (chosen[held] >= 0).all() and program.holds(chosen):
        return chosen
    restricted = program.restricted_to(held[program.check_of])
    solved = branch_and_cut(days_form(restricted.program), None, SECONDS)
    if solved.chosen is None:
        return np.full_like(old, -1)
    # Everybody else is left out here, and counts days past all the same.
    allowed = restricted.program.days_past(solved.chosen)
    cheapest = branch_and_cut(
        money_form(replace(restricted.program, days_allowed=allowed)), solved.chosen, SECONDS
    )
    best = solved.chosen if cheapest.chosen is None else cheapest.chosen
    return restricted.to_whole(best)


def kept_arrangement(program: Program, slots: Slots, old: Choice, begin: Choice) -> Choice:
    """Return ``begin`` with all others in their ``old`` columns that stand beside it.

    Who comes in soonest stays first. Booked checks whose old place is taken or gone, and new
    ones, follow in order of ``Latest in``: fewest days past first, then the least money.
    Options without their old place stay out.
    """
    return cheapest_fill(program, slots, kept_beside(begin, old, program))
