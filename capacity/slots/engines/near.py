"""Programs of a few checks solved by whichever engine suits them."""

from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.program.choice import Choice
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.program import Program


def solve_near(program: Program, start: Choice, seconds: float, seed: int) -> Choice | None:
    """Return the best choice of a small program found in so many ``seconds``, from ``start`` on.

    CP-SAT knows man-hours in whole units only, which is quick where they lie evenly. Levelled ones
    flow from week to week in any amount: that is for branch-and-cut.
    """
    if program.hours.are_levelled:
        return branch_and_cut(money_form(program), start, seconds).chosen
    # Imported here: it takes a second that the first annealing should not wait for.
    try:
        from capacity.slots.engines import cpsat
    except ImportError as fault:  # how a library ends for which there is no memory
        raise MemoryError("CP-SAT could not be loaded") from fault

    return cpsat.solve(program, start, seconds, seed)
