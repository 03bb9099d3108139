"""Small programs: solved to the end on the spot, without the two sides."""

import time

import numpy as np

from capacity.settings import Settings
from capacity.slots.engines.highs import SOURCE, branch_and_cut
from capacity.slots.line.reports import DaysBound, FoundChoice, MoneyBound, Report
from capacity.slots.program.choice import Choice
from capacity.slots.program.day_strands import DaySet
from capacity.slots.program.dominated_columns import undominated
from capacity.slots.program.impossible_columns import possible_within
from capacity.slots.program.linear_form import days_form, money_form
from capacity.slots.program.program import Program
from capacity.slots.program.strands import WeekSet
from capacity.slots.program.week_sets import sets_broken_by


def solve_at_once(program: Program, chosen: Choice, settings: Settings) -> list[Report]:
    """Return what a short branch-and-cut proves and finds, beginning with ``chosen``.

    Nothing for a program that is not small. There are two of them at the most, so each may take
    half of the time.
    """
    search = settings.search
    times = search.times_at_once_by_day if program.hours.days is not None else 1.0
    seconds = min(times * search.seconds_at_once, settings.seconds / 2)
    if program.size > search.small_columns or seconds <= 0:
        return []
    words: list[Report] = [DaysBound(program.settled_past)]
    if program.days_past(chosen) > program.settled_past:
        solved = branch_and_cut(days_form(program), chosen, seconds)
        chosen = chosen if solved.chosen is None else solved.chosen
        words += [DaysBound.above(solved.bound), FoundChoice(chosen, SOURCE)]
    days = program.days_past(chosen)
    timely = program.within_days(days, possible_within(program, days, search))
    restricted = undominated(timely, program.size)
    sets: tuple[WeekSet | DaySet, ...] = ()
    if program.hours.days is not None and (start := restricted.from_whole(chosen)) is not None:
        sets = sets_broken_by(restricted.program, start)
    until = time.monotonic() + seconds
    while True:
        # Rows that the cheapest choice breaks are taken in until its cost is what is proven.
        form = money_form(restricted.program, sets)
        left = until - time.monotonic()
        solved = branch_and_cut(form, restricted.from_whole(chosen), left, settings.gap)
        if np.isfinite(solved.bound):
            words.append(MoneyBound(days, solved.bound))
        if solved.chosen is None:
            return words
        words.append(FoundChoice(restricted.to_whole(solved.chosen), SOURCE))
        broken = sets_broken_by(restricted.program, solved.chosen)
        more = tuple(one for one in broken if one not in sets)
        if not more or not solved.finished or time.monotonic() > until:
            return words
        sets = (*sets, *more)
