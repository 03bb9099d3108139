"""Programs of a few checks solved by whichever engine suits them."""

import time

from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.program.choice import Choice
from capacity.slots.program.day_strands import DaySet
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.program import Program


def solve_near(
    program: Program,
    start: Choice,
    seconds: float,
    seed: int,
    known: dict[DaySet, None] | None = None,
) -> Choice | None:
    """Return the best choice of a small program found in so many ``seconds``, from ``start`` on.

    CP-SAT knows man-hours in whole units only, which is quick where they lie evenly. Levelled ones
    flow from week to week in any amount: that is for branch-and-cut. Where days are priced, rows
    of sets of days ``known`` from one program hold for every other of the same base: those found
    broken here are added to them.

    Without restarts: presolving once more HiGHS 1.16 may never end, whatever ``seconds`` say.
    """
    if program.hours.days is not None:
        return _with_days(program, start, seconds, {} if known is None else known)
    if program.hours.are_levelled:
        return branch_and_cut(money_form(program), start, seconds, restarts=False).chosen
    # Imported here: it takes a second that the first annealing should not wait for.
    try:
        from capacity.slots.engines import cpsat
    except ImportError as fault:  # how a library ends for which there is no memory
        raise MemoryError("CP-SAT could not be loaded") from fault

    return cpsat.solve(program, start, seconds, seed)


def _with_days(
    program: Program, start: Choice, seconds: float, known: dict[DaySet, None]
) -> Choice | None:
    """Return the best choice found where days are priced: rows of days that one breaks come in."""
    until = time.monotonic() + seconds
    form = money_form(program, tuple(known))
    best, cost = start, program.cost(start)
    lacking = form.days_lacking(start)
    while (left := until - time.monotonic()) > 0:
        known.update(dict.fromkeys(lacking))
        form = form.with_sets(lacking)
        solved = branch_and_cut(form, best, left, restarts=False)
        if solved.chosen is None:
            break
        if (now := program.cost(solved.chosen)) < cost:
            best, cost = solved.chosen, now
        lacking = form.days_lacking(solved.chosen)
        known.update(dict.fromkeys(lacking))
        if not lacking or not solved.finished:
            break
    return best
