"""How an annealing cools down, and what a day past ``Latest in`` counts meanwhile."""

from dataclasses import dataclass

import numpy as np

from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program

# Temperature as a multiple of the plan's money a check, at the beginning and at the end. Hot
# annealings forget where they began and so leave a bad valley; those between them look around
# the best.
HOT, WARM, COLD = 6.0, 2.0, 0.08
# What a day past Latest in counts at the beginning, in temperatures: more than a round mostly
# gains. At the end it is more than any plan can gain. Much softer prices were worse.
DAY_AT_FIRST = 50.0


@dataclass(frozen=True)
class Cooling:
    """One annealing from ``begin`` to ``COLD``; ``hard_price`` is a day's price at its end."""

    begin: float
    hard_price: float

    def at(self, share: float, money: float) -> tuple[float, float]:
        """Return temperature and price of a day after a ``share`` of it, by money a check."""
        temperature = max(1.0, money * self.begin * (COLD / self.begin) ** share)
        day_price = (temperature * DAY_AT_FIRST) ** (1 - share) * self.hard_price**share
        return temperature, day_price


def money_a_check(program: Program, chosen: Choice) -> float:
    """Return what is spent and earned a check, so that prices do not cancel costs out."""
    columns = chosen[chosen >= 0]
    dates = float(np.abs(program.money[columns]).sum())
    return (dates + program.hours.money(program.load(chosen))) / max(1, len(program.checks))
