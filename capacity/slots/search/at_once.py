"""Small programs: solved to the end on the spot, without the two sides."""

import numpy as np

from capacity.slots.engines.highs import SOURCE, branch_and_cut
from capacity.slots.line.reports import DaysBound, FoundChoice, MoneyBound, Report
from capacity.slots.program.choice import Choice
from capacity.slots.program.dominated_columns import undominated
from capacity.slots.program.impossible_columns import possible_within
from capacity.slots.program.linear_form import days_form, money_form
from capacity.slots.program.program import Program

# Starting the sides takes some two seconds; a program of so many columns is often done before.
SMALL_COLUMNS = 1500
SECONDS = 0.7


def solve_at_once(program: Program, chosen: Choice, gap: float, seconds: float) -> list[Report]:
    """Return what a short branch-and-cut proves and finds, beginning with ``chosen``.

    Nothing for a program that is not small, or when there are no two ``seconds``.
    """
    if program.size > SMALL_COLUMNS or seconds < 2 * SECONDS:
        return []
    words: list[Report] = [DaysBound(program.settled_past)]
    if program.days_past(chosen) > program.settled_past:
        solved = branch_and_cut(days_form(program), chosen, SECONDS)
        chosen = chosen if solved.chosen is None else solved.chosen
        words += [DaysBound.above(solved.bound), FoundChoice(chosen, SOURCE)]
    days = program.days_past(chosen)
    timely = program.within_days(days, possible_within(program, days))
    restricted = undominated(timely, program.size)
    solved = branch_and_cut(
        money_form(restricted.program), restricted.from_whole(chosen), SECONDS, gap
    )
    if solved.chosen is not None:
        words.append(FoundChoice(restricted.to_whole(solved.chosen), SOURCE))
    if np.isfinite(solved.bound):
        words.append(MoneyBound(days, solved.bound))
    return words
