"""Ruin and recreate: take a few related checks out, put each back where it is cheapest.

Simulated annealing on exact man-hours: a round that makes the plan dearer is kept with a
probability that falls as the search cools. Ruin and recreate is a method of Schrimpf and others
(2000), who accept by a threshold; that places are overlooked at random, in blinks, is one of
Christiaens and Vanden Berghe (2020). Both from memory, not checked against the text.
"""

import numpy as np

from capacity.slots.finding.levelled_rounds import LEAST, bend_all, run_levelled_rounds
from capacity.slots.finding.round_arrays import arrays_of, state_of
from capacity.slots.finding.rounds import Costs, run_rounds, seed_rounds
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program

# How many checks at the most are taken out in a round; measured on invented quarters.
MOST_OUT = 5
# Rounds between two looks at the clock.
ROUNDS_A_LOOK = 500
# Blur of the prices in a round, as a share of the temperature.
BLUR = 0.8
# How often everybody's hours are bent anew before the first round.
MOST_SWEEPS = 10


class RuinRecreate:
    """A choice under change, and the best one so far: fewest days past, then least money.

    ``costs`` holds days and money of both.
    """

    def __init__(self, program: Program, chosen: Choice, seed: int) -> None:
        """Begin with a choice that keeps all rows; ``seed`` is the only source of chance."""
        self.program = program
        self._arrays = arrays_of(program)
        self._run = run_levelled_rounds if program.hours.are_levelled else run_rounds
        self.begin_again(chosen, seed)

    def begin_again(self, chosen: Choice, seed: int) -> None:
        """Begin anew with another choice that keeps all rows, which forgets the best one so far."""
        self._state = state_of(self.program, self._arrays, chosen, MOST_OUT)
        seed_rounds(seed)
        days, money = self.program.days_past(chosen), self.program.dates_money(chosen)
        if self.program.hours.are_levelled:
            # Everybody's hours begin evenly: the money is what they cost once they are bent.
            money += self._even_money(chosen)
            for _ in range(MOST_SWEEPS):
                saved = -bend_all(self._arrays, self._state)
                money -= saved
                if saved <= LEAST:
                    break
        else:
            money += self.program.hours.money(self.program.load(chosen))
        self.costs = Costs(float(days), money, float(days), money)
        self.best = chosen.copy()

    def _even_money(self, chosen: Choice) -> float:
        """Return what the man-hours of a choice cost spread evenly, as the rounds count them."""
        hours = self.program.hours
        load = self.program.load(chosen)[: hours.cells]
        return hours.even_money(load)

    def rounds(self, count: int, temperature: float, day_price: float) -> bool:
        """Do ``count`` rounds; tell whether the best choice improved.

        A round that makes the plan dearer by ``temperature`` is kept one time in e; a day
        past ``Latest in`` counts as ``day_price``.
        """
        before = self.costs
        self.costs = self._run(
            self._arrays,
            self._state,
            self.best,
            before,
            count,
            temperature,
            day_price,
            BLUR,
        )
        now = self.costs
        return (now.best_days, now.best_money) < (before.best_days, before.best_money)


def day_money(program: Program) -> float:
    """Return more money than any two choices can differ by."""
    spread, hours = 0.0, 0.0
    for first, until in zip(program.first_column[:-1], program.first_column[1:], strict=True):
        if until > first:
            money = np.append(program.money[first:until], 0.0)
            spread += float(money.max() - money.min())
            hours += float(program.man_hours[program.course[first:until]].sum(axis=1).max())
    return 1.0 + spread + program.hours.dearest * (hours + float(program.asked.sum()))
