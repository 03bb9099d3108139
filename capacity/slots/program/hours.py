"""What a load of man-hours costs: regular hours first, then the cheapest others."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from capacity.labour.sharing import share_out
from capacity.labour.supply import Floats, Supply
from capacity.slots.program.cuts import Cuts, cuts_of
from capacity.slots.program.levelled_load import Levelled, level

# Levelled loads that are remembered: a choice is priced several times in a row.
MOST_KNOWN = 64


@dataclass(frozen=True)
class Hours:
    """The supply as the program sees it, its cells being weeks x kinds, week by week.

    Where hours ``are_levelled``, a load holds the even hours of the cells and behind them the
    limits within which they can be levelled; see ``capacity.slots.candidates.levelling``.
    """

    supply: Supply
    cuts: Cuts
    are_levelled: bool = False

    @property
    def cells(self) -> int:
        """Return the number of cells."""
        return int(self.supply.regular.size)

    @property
    def regular(self) -> Floats:
        """Return the hours that cost nothing and serve one kind only, shape (cells,)."""
        return self.supply.regular.ravel()

    @property
    def dearest(self) -> float:
        """Return the highest price of an hour."""
        return float(self.supply.pool_price[self.supply.serves].max(initial=0.0))

    def levelled(self, load: Floats) -> Levelled:
        """Return a load levelled as cheaply as can be."""
        key = load.tobytes()
        if key not in self._known:
            if len(self._known) >= MOST_KNOWN:
                self._known.clear()
            shape = self.supply.regular.shape
            limits = load[self.cells :].reshape(-1, *shape)
            self._known[key] = level(self.supply, load[: self.cells].reshape(shape), limits)
        return self._known[key]

    @cached_property
    def _known(self) -> dict[bytes, Levelled]:
        return {}

    def asked(self, load: Floats) -> Floats:
        """Return what a load asks of each week and kind once it is levelled, (weeks, kinds)."""
        if self.are_levelled:
            return self.levelled(load).asked
        return load.reshape(self.supply.regular.shape)

    def excess(self, load: Floats) -> Floats:
        """Return the hours asked beyond the regular ones, shape (weeks, kinds)."""
        return np.maximum(self.asked(load) - self.supply.regular, 0.0)

    def bought(self, load: Floats) -> Floats:
        """Return the hours that each pool gives, shape (pools, weeks, kinds)."""
        return share_out(self.supply, self.excess(load))

    def money(self, load: Floats) -> float:
        """Return what the hours beyond the regular ones cost."""
        return self.levelled(load).money if self.are_levelled else self.even_money(load)

    def even_money(self, load: Floats) -> float:
        """Return what hours beyond the regular ones cost when the load (cells,) lies as it is."""
        excess = np.maximum(load.reshape(self.supply.regular.shape) - self.supply.regular, 0.0)
        widths, prices = self.supply.tiers
        money, left = 0.0, excess
        for width, price in zip(widths, prices, strict=True):
            taken = np.minimum(left, width)
            left = left - taken
            money += float(np.vdot(taken, price))
        if self.cuts.is_exact:
            return money + self.cuts.money(excess)
        return money + self._shared_money(excess)

    def _shared_money(self, excess: Floats) -> float:
        """Solve the sharing out: crews whose hours cost differently by kind."""
        supply = self.supply
        hours = share_out(supply, np.where(supply.is_shared, excess, 0.0))
        price = np.where(supply.serves, supply.pool_price, 0.0)
        return float(np.einsum("pwk,pk->", hours, price))


def hours_of(supply: Supply, *, levelled: bool = False) -> Hours:
    """Return the hours of a supply, for loads that are levelled or not."""
    return Hours(supply, cuts_of(supply), levelled)
