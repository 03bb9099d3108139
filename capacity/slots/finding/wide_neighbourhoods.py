"""Wide neighbourhoods: half of a hangar's checks freed at once, over their promising columns.

Annealing leaves much in hangars: a long check finds no other place unless many checks move for it,
more than a round takes out. Branch-and-cut moves some thirty of them together, if it has only one
or two thousand columns to choose from; the relaxation's reduced costs tell which (see
``proving/promising_columns.py``). As many checks and columns as are solved in some seconds are
better than fewer. Large-neighbourhood search is a method of Shaw (1998), from memory, not checked
against the text.

A relaxation has one set of dual prices of many, by which columns as good as those it takes can look
dear. So reduced costs are the mean over several relaxations, their columns' costs varied by chance.
"""

import time
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from capacity.search_settings import SearchSettings
from capacity.slots.finding.cooling import money_a_check
from capacity.slots.line.mailbox import Mailbox
from capacity.slots.program.choice import Choice
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.neighbourhood import around
from capacity.slots.program.program import Program, Restricted
from capacity.slots.program.promising import of_least_reduced_cost
from capacity.slots.program.relatedness import related_to, relatedness

# How many checks are freed; one number is drawn for each neighbourhood.
FEWEST_FREE, MOST_FREE = 20, 45
# How often a check that is left out is in the middle of a neighbourhood, if there is one.
LEFT_OUT_SHARE = 0.3
# How many relaxations with varied costs there are, in what share of the first seconds at the most,
# and the standard deviation of what a column's cost is varied by, as a share of what is spent and
# earned a check.
MOST_VARIED, SHARE_FOR_VARIED, VARIED_BY = 6, 0.25, 0.2
# How many columns are looked at: at first, at the least, and by which factors more or fewer of
# them where a neighbourhood was solved in a third of its time, or not at all.
COLUMNS_AT_FIRST, LEAST_COLUMNS = 1_500, 300
MORE, FEWER = 1.15, 0.85
SOON = 1 / 3
# How many are solved in a row for fewer days past, over how many columns, and in what share of the
# time of another: hours are not looked at, so it is soon seen.
MOST_TRIES_FOR_DAYS, COLUMNS_FOR_DAYS, SHARE_FOR_DAYS = 4, 3_000, 0.3
# How nearly branch-and-cut solves a neighbourhood.
GAP = 1e-4


def pays_for(program: Program, timing: SearchSettings) -> bool:
    """Return whether wide neighbourhoods are worth their time.

    With few columns crossing over and the proof do better; of long plans they came to nothing.
    Where days are priced they have not been tried.
    """
    return (
        program.size >= timing.fewest_columns_for_wide
        and len(program.checks) <= timing.most_checks_without_windows
        and program.hours.days is None
    )


class WideNeighbourhoods:
    """Betters the best choice known by branch-and-cut, many related checks at a time.

    Keeps what it knows of the program for its days past: the relaxation's reduced costs, who is
    related, and how many columns can be looked at.
    """

    def __init__(self, mailbox: Mailbox, rows: LazyRows) -> None:
        """Begin with nothing known; ``rows`` are those of the side that searches."""
        self._mailbox, self._rows = mailbox, rows
        self._columns = float(COLUMNS_AT_FIRST)
        self._days: int | None = None
        self._relaxations = 0
        self._reduced_costs = self._related = np.empty(0)

    def seconds_after(self, annealing: float) -> float:
        """Return how many seconds are given to neighbourhoods after so many of annealing."""
        timing = self._mailbox.task.settings.search
        return max(timing.least_wide_seconds, timing.wide_times * annealing)

    def seconds_before(self, left: float) -> float:
        """Return how many of the ``left`` seconds are annealing's before neighbourhoods end it."""
        timing = self._mailbox.task.settings.search
        least = min(left, timing.first_annealing_seconds)
        return max(least, left / (1.0 + timing.wide_times))

    def begin_with(
        self, restricted: Restricted, reduced_costs: NDArray[np.float64], days: int
    ) -> None:
        """Go by the reduced costs of a relaxation of the program of so many days past."""
        self._days, self._relaxations = days, 1
        self._reduced_costs = np.full(self._mailbox.program.size, np.inf)
        self._reduced_costs[restricted.number] = reduced_costs[: restricted.program.size]
        self._related = relatedness(restricted.program)

    def search(self, seconds: float, seed: int, *, for_days: bool = False) -> None:
        """Solve neighbourhoods until the ``seconds`` are up, or fewer days past are known.

        ``for_days``: some for fewer days past only, whatever they cost.
        """
        mailbox, most_seconds = self._mailbox, self._mailbox.task.settings.search.wide_seconds
        until = time.monotonic() + min(seconds, mailbox.seconds_left)
        rng, days, tries = np.random.default_rng(seed), mailbox.best[1][0], 0
        if until <= time.monotonic():
            return
        restricted, program = self._rows.within(days), self._rows.program
        if self._days != days and not self._relax(restricted, days):
            return
        if not for_days:
            self._vary(restricted, rng, SHARE_FOR_VARIED * (until - time.monotonic()))
        while (left := until - time.monotonic()) > 0 and mailbox.best[1][0] == days:
            if program is not self._rows.program:  # a choice has broken rows, which came in
                restricted, program = self._rows.within(days), self._rows.program
            best = restricted.from_whole(mailbox.best[0])
            if best is None or (for_days and tries == MOST_TRIES_FOR_DAYS):
                return
            free = self._drawn(restricted.program, best, rng, for_days=for_days)
            share = SHARE_FOR_DAYS if for_days else 1.0
            self._solve(restricted, best, free, min(left, share * most_seconds), for_days=for_days)
            tries += 1

    def _relax(self, restricted: Restricted, days: int) -> bool:
        """Relax the program of so many days past; return whether there is an optimum in time."""
        # Imported here: the engines take a second that the first annealing should not wait for.
        from capacity.slots.engines.highs import relaxed
        from capacity.slots.program.linear_form import money_form

        found = relaxed(money_form(restricted.program), max(0.0, self._mailbox.seconds_left))
        if found is None:
            return False
        self.begin_with(restricted, found.reduced_costs, days)
        return True

    def _vary(self, restricted: Restricted, rng: np.random.Generator, seconds: float) -> None:
        """Take reduced costs of relaxations with varied costs into their means, in the ``seconds``.

        What a column's cost is varied by is taken off its reduced cost again.
        """
        from capacity.slots.engines.highs import relaxed
        from capacity.slots.program.linear_form import money_form

        if self._relaxations > MOST_VARIED:
            return
        form, size = money_form(restricted.program), restricted.program.size
        spread = VARIED_BY * money_a_check(self._mailbox.program, self._mailbox.best[0])
        until = time.monotonic() + seconds
        while self._relaxations <= MOST_VARIED and (left := until - time.monotonic()) > 0:
            by = np.zeros(len(form.cost))
            by[:size] = rng.normal(0.0, spread, size)
            found = relaxed(replace(form, cost=form.cost + by), left)
            if found is None:
                return
            varied = np.maximum(found.reduced_costs - by, 0.0)[:size]
            total = self._relaxations * self._reduced_costs[restricted.number] + varied
            self._relaxations += 1
            self._reduced_costs[restricted.number] = total / self._relaxations

    def _drawn(
        self, program: Program, best: Choice, rng: np.random.Generator, *, for_days: bool
    ) -> NDArray[np.int64]:
        """Return a check drawn at random and many that are related to it, in rising order.

        It is one that is past its ``Latest in`` where that is what should be bettered.
        """
        past = np.where(best < 0, program.unplaced_past, program.past[best])
        late, left_out = np.flatnonzero(past), np.flatnonzero(best < 0)
        middle = int(rng.integers(len(best)))
        if for_days and len(late):
            middle = int(rng.choice(late))
        elif len(left_out) and rng.random() < LEFT_OUT_SHARE:
            middle = int(rng.choice(left_out))
        count = int(rng.integers(FEWEST_FREE, MOST_FREE + 1))
        return related_to(middle, self._related, count, rng)

    def _solve(
        self,
        restricted: Restricted,
        best: Choice,
        free: NDArray[np.int64],
        seconds: float,
        *,
        for_days: bool,
    ) -> None:
        """Solve the program of the ``free`` checks over their promising columns, telling all found.

        Takes more or fewer columns next time, as it was soon solved or not at all.
        """
        from capacity.slots.engines.highs import Listener, branch_and_cut
        from capacity.slots.program.linear_form import days_form, money_form

        near = around(restricted.program, best, free)
        mine = near.found_here(best[free])
        reduced = self._reduced_costs[restricted.number[near.number]]
        count = COLUMNS_FOR_DAYS if for_days else int(self._columns)
        small = near.program.restricted_to(of_least_reduced_cost(reduced, count, mine))

        def on_choice(chosen: Choice) -> None:
            whole = best.copy()
            whole[free] = near.to_whole(small.to_whole(chosen))
            whole = restricted.to_whole(whole)
            if not self._rows.broken_by(whole):
                self._mailbox.tell_choice(whole, "search")

        began = time.monotonic()
        solved = branch_and_cut(
            days_form(small.program) if for_days else money_form(small.program),
            small.found_here(mine),
            seconds,
            GAP,
            Listener(on_choice=on_choice, on_bound=lambda bound: self._mailbox.flush()),
            restarts=for_days,
        )
        if solved.chosen is not None:
            on_choice(solved.chosen)
        if for_days:
            return  # how soon that is solved tells nothing of the others
        if not solved.finished:
            self._columns = max(LEAST_COLUMNS, self._columns * FEWER)
        elif time.monotonic() - began < seconds * SOON:
            self._columns *= MORE
