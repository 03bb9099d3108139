"""What a load of man-hours costs: regular hours first, then the cheapest others."""

from dataclasses import dataclass

import numpy as np

from capacity.labour.sharing import share_out
from capacity.labour.supply import Floats, Supply
from capacity.slots.program.cuts import Cuts, cuts_of


@dataclass(frozen=True)
class Hours:
    """The supply as the program sees it, its cells being weeks x kinds, week by week."""

    supply: Supply
    cuts: Cuts

    @property
    def regular(self) -> Floats:
        """Return the hours that cost nothing and serve one kind only, shape (cells,)."""
        return self.supply.regular.ravel()

    @property
    def dearest(self) -> float:
        """Return the highest price of an hour."""
        return float(self.supply.pool_price[self.supply.serves].max(initial=0.0))

    def excess(self, load: Floats) -> Floats:
        """Return the hours asked beyond the regular ones, shape (weeks, kinds)."""
        return np.maximum(load.reshape(self.supply.regular.shape) - self.supply.regular, 0.0)

    def bought(self, load: Floats) -> Floats:
        """Return the hours that each pool gives, shape (pools, weeks, kinds)."""
        return share_out(self.supply, self.excess(load))

    def money(self, load: Floats) -> float:
        """Return what the hours beyond the regular ones cost."""
        excess = self.excess(load)
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


def hours_of(supply: Supply) -> Hours:
    """Return the hours of a supply."""
    return Hours(supply, cuts_of(supply))
