"""The columns of a program that good choices are likely made of, told by its relaxation.

A relaxation gives each column a reduced cost: no choice that has the column costs less than the
relaxation's value and that (weak duality). Most columns have a large one, so good choices are made
of a few thousand; over these branch-and-cut is done in seconds where over all it takes minutes.
What is proven over them is proven for all: a choice is made of columns taken, or has one that was
left out. Fixing columns by their reduced costs is from Dantzig, Fulkerson and Johnson (1954);
from memory, not checked against the text.
"""

import time
from dataclasses import dataclass
from typing import Self

import numpy as np

from capacity.slots.engines.highs import SOURCE, Listener, Relaxation, branch_and_cut
from capacity.slots.line.mailbox import Mailbox
from capacity.slots.line.reports import MoneyBound
from capacity.slots.program.choice import Choice
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.program import Program, Restricted
from capacity.slots.program.promising import of_least_reduced_cost
from capacity.slots.program.week_sets import sets_broken_by
from capacity.slots.proving.relaxations import MoneyRelaxations


@dataclass(frozen=True)
class Promising:
    """A program over its columns of least reduced cost.

    ``others_cost_at_least`` is the money of every choice that has another column, or more.
    """

    restricted: Restricted
    others_cost_at_least: float

    @classmethod
    def of(cls, program: Program, relaxation: Relaxation, count: int, best: Choice | None) -> Self:
        """Return the program over ``count`` columns, and those of the ``best`` choice known."""
        reduced = relaxation.reduced_costs[: program.size]
        taken = of_least_reduced_cost(reduced, count, best)
        least = float(reduced[~taken].min(initial=np.inf))
        return cls(program.restricted_to(taken), relaxation.value + max(0.0, least))

    def bound(self, proven: float) -> float:
        """Return the least cost of all choices, ``proven`` being that of those made of these."""
        return min(proven, self.others_cost_at_least)


def solve_promising(
    mailbox: Mailbox, rows: LazyRows, relaxations: MoneyRelaxations, days: int
) -> None:
    """Solve the program over ever more of its promising columns, where it has many.

    Not of long plans, which annealing comes to better ones of: all time is for their bound.
    Rows that the best choices of these lack are taken in.
    """
    timing = mailbox.task.settings.search
    until = time.monotonic() + timing.promising_share * mailbox.seconds_left
    count = timing.promising_columns
    while True:
        restricted, _ = relaxations.within(days)
        relaxation, known, left = relaxations.last, mailbox.best, until - time.monotonic()
        is_few = count * timing.promising_growth >= restricted.program.size
        is_long = len(restricted.program.checks) > timing.most_checks_without_windows
        if relaxation is None or is_few or is_long or left <= 0 or known[1][0] < days:
            return
        best = restricted.from_whole(known[0])
        promising = Promising.of(restricted.program, relaxation, count, best)
        small = promising.restricted
        solved = branch_and_cut(
            money_form(small.program, relaxations.sets),
            None if best is None else small.from_whole(best),
            left,
            mailbox.task.settings.gap,
            _listening_for(mailbox, restricted, small, days),
            restarts=False,
        )
        bound = promising.bound(solved.bound)
        if np.isfinite(bound):
            mailbox.tell(MoneyBound(days, bound))
        lacks = False
        if solved.chosen is not None:
            chosen = small.to_whole(solved.chosen)
            whole = restricted.to_whole(chosen)
            mailbox.tell_choice(whole, SOURCE)
            lacks = rows.broken_by(whole)
            lacks |= solved.finished and relaxations.take_in(
                sets_broken_by(restricted.program, chosen)
            )
        mailbox.flush(at_once=True)
        if not (lacks or solved.finished):
            return
        if not lacks:
            count = int(count * timing.promising_growth)


def _listening_for(
    mailbox: Mailbox, restricted: Restricted, small: Restricted, days: int
) -> Listener:
    def on_choice(chosen: Choice) -> None:
        mailbox.tell_choice(restricted.to_whole(small.to_whole(chosen)), SOURCE)

    return Listener(
        on_bound=lambda bound: mailbox.flush(),
        on_choice=on_choice,
        stop=lambda: mailbox.best[1][0] < days,
    )
