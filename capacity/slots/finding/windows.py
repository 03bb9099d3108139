"""Annealing of a part of a long plan at a time: the checks that come in about the same day.

A year annealed as a whole is as good as its luck in all its quarters together; window by window
each has its own, and what is worse than before is not kept.
"""

import time

import numpy as np
from numpy.typing import NDArray

from capacity.slots.finding.cooling import Cooling, money_a_check
from capacity.slots.finding.ruin_recreate import ROUNDS_A_LOOK, RuinRecreate, day_money
from capacity.slots.line.mailbox import Mailbox
from capacity.slots.program.choice import Choice
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.neighbourhood import around
from capacity.slots.program.program import Program


def anneal_window(
    mailbox: Mailbox, rows: LazyRows, seconds: float, seed: int, begin: float
) -> None:
    """Cool a random window of the best choice down once, the other checks standing still."""
    chosen, (days, _) = mailbox.best
    restricted = rows.within(days)
    mine = restricted.found_here(chosen)
    checks = mailbox.task.settings.search.window_checks
    free = window(restricted.program, mine, checks, np.random.default_rng(seed))
    near = around(restricted.program, mine, free)
    search = RuinRecreate(near.program, near.found_here(mine[free]), seed)
    cooling = Cooling(begin, day_money(near.program))
    # By the whole plan: in the window's own program the money of all others is settled.
    money = money_a_check(restricted.program, mine)
    began, share, is_better = time.monotonic(), 0.0, False
    while share < 1.0 and mailbox.seconds_left > 0:
        is_better |= search.rounds(ROUNDS_A_LOOK, *cooling.at(share, money))
        mailbox.flush()
        share = (time.monotonic() - began) / seconds
    if is_better:
        mine[free] = near.to_whole(search.best)
        whole = restricted.to_whole(mine)
        if not rows.broken_by(whole):
            mailbox.tell_choice(whole, "search")


def window(
    program: Program, chosen: Choice, count: int, rng: np.random.Generator
) -> NDArray[np.int64]:
    """Return ``count`` checks, those that come in one after the other, in rising order.

    A check that is left out counts with the mean of its in days. Any check is as likely
    to be in its middle; at either end it is as far out as can be.
    """
    checks = len(program.checks)
    columns = np.bincount(program.check_of, minlength=checks)
    days = np.bincount(program.check_of, program.in_day, minlength=checks)
    day = np.where(chosen >= 0, program.in_day[chosen], days / np.maximum(1, columns))
    count = min(count, checks)
    middle = int(rng.integers(checks))
    first = min(max(middle - count // 2, 0), checks - count)
    return np.sort(np.argsort(day, kind="stable")[first : first + count])
