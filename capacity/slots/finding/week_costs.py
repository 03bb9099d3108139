"""What man-hours of single weeks cost, for many loads at once."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from capacity.labour.sharing import share_out
from capacity.labour.supply import Floats
from capacity.slots.program.cuts import cuts_of
from capacity.slots.program.hours import Hours

Ints = NDArray[np.int64]
# Loads that are shared out by one linear program.
LOADS_AT_ONCE = 400


class WeekMoney:
    """Prices loads week by week: ``weeks`` (n,) and ``loads`` (n, kinds) give money (n,)."""

    def __init__(self, hours: Hours) -> None:
        """Find once how the hours of shared crews are priced."""
        self._supply = hours.supply
        self.is_exact = hours.cuts.is_exact
        self._cuts = hours.cuts if self.is_exact else cuts_of(hours.supply, at_least=True)

    def at_least(self, weeks: Ints, loads: Floats) -> Floats:
        """Return a lower bound of the money; the money itself when ``is_exact``."""
        excess = self._excess(weeks, loads)
        bound: Floats = self._by_tiers(weeks, excess)
        bound += self._cuts.money_of_weeks(weeks, excess).sum(axis=0)
        return bound

    def exact(self, weeks: Ints, loads: Floats) -> Floats:
        """Return the money: a sharing that nobody could do cheaper."""
        if self.is_exact:
            return self.at_least(weeks, loads)
        excess = self._excess(weeks, loads)
        money = self._by_tiers(weeks, excess)
        shared = np.where(self._supply.is_shared, excess, 0.0)
        asked = np.flatnonzero(shared.any(axis=1))
        price = np.where(self._supply.serves, self._supply.pool_price, 0.0)
        for some in np.array_split(asked, 1 + len(asked) // LOADS_AT_ONCE):
            # A week that is asked several loads is as many weeks to the linear program.
            several = replace(
                self._supply,
                regular=self._supply.regular[weeks[some]],
                pool_hours=self._supply.pool_hours[:, weeks[some]],
                overtime_cap=self._supply.overtime_cap[weeks[some]],
                contract_cap=self._supply.contract_cap[weeks[some]],
            )
            money[some] += np.einsum("pwk,pk->w", share_out(several, shared[some]), price)
        return money

    def _excess(self, weeks: Ints, loads: Floats) -> Floats:
        excess: Floats = np.maximum(loads - self._supply.regular[weeks], 0.0)
        return excess

    def _by_tiers(self, weeks: Ints, excess: Floats) -> Floats:
        """Return what kinds cost that share no crews."""
        money, left = np.zeros(len(excess)), excess
        for width, price in zip(*self._supply.tiers, strict=True):
            taken = np.minimum(left, width[weeks])
            left = left - taken
            money += (taken * price[weeks]).sum(axis=1)
        return money
