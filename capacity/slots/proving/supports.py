"""The columns that relaxations took, solved by themselves where days are priced."""

import time

import numpy as np
from numpy.typing import NDArray

from capacity.slots.engines.highs import SOURCE, Listener, branch_and_cut
from capacity.slots.line.mailbox import Mailbox
from capacity.slots.program.day_strands import DaySet
from capacity.slots.program.linear_form import money_form
from capacity.slots.proving.relaxations import MoneyRelaxations, Posted

# How often they are solved, and how exactly.
MOST_TIMES, GAP = 8, 1e-4


def solve_supports(mailbox: Mailbox, relaxations: MoneyRelaxations, days: int) -> Posted:
    """Solve the program over the columns that relaxations took, where days are priced.

    It is small, so rows of days that its best choices lack are soon found, and good plans with
    them. Returns the form with these rows.
    """
    until = time.monotonic() + mailbox.task.settings.search.supports_share * mailbox.seconds_left
    for _ in range(MOST_TIMES):
        restricted, form = relaxations.within(days)
        left = until - time.monotonic()
        if restricted.program.hours.days is None or left <= 0:
            break
        best = restricted.from_whole(mailbox.best[0])
        columns = relaxations.taken[restricted.number]
        if best is not None:
            columns[best[best >= 0]] = True
        small = restricted.program.restricted_to(columns)
        found: list[NDArray[np.int64]] = []
        solved = branch_and_cut(
            money_form(small.program, relaxations.sets),
            None if best is None else small.from_whole(best),
            left,
            GAP,
            Listener(on_choice=found.append, stop=lambda: mailbox.best[1][0] < days),
        )
        if solved.chosen is not None:
            found.append(solved.chosen)
        known, lacking = mailbox.best[1], dict[DaySet, None]()
        for chosen in found:
            whole = small.to_whole(chosen)
            lacking.update(dict.fromkeys(form.days_lacking(whole)))
            mailbox.tell_choice(restricted.to_whole(whole), SOURCE)
        mailbox.flush(at_once=True)
        if not relaxations.take_in(tuple(lacking)) and mailbox.best[1] == known:
            break
    return relaxations.within(days)
