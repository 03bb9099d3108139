"""What a load of man-hours costs: regular hours first, then the cheapest others."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from capacity.labour.sharing import share_out
from capacity.labour.supply import Floats, Supply
from capacity.slots.candidates import LIMITS
from capacity.slots.program.cuts import Cuts, cuts_of
from capacity.slots.program.day_spread import DaySpread, laid_on_days, spread_over_days
from capacity.slots.program.day_strands import DayStrands
from capacity.slots.program.levelled_load import Levelled, level
from capacity.slots.program.spread_load import Spread, spread_out
from capacity.slots.program.strands import Strands

# Levelled loads that are remembered: a choice is priced several times in a row.
MOST_KNOWN = 64


@dataclass(frozen=True)
class Hours:
    """The supply as the program sees it, its cells being weeks x kinds, week by week.

    Where hours ``are_levelled``, a load holds the even hours of the cells, behind them the limits
    within which they can be levelled (see ``capacity.slots.candidates.levelling``), and behind
    those which courses are in it, by their numbers among the ``strands``. Where days are priced
    a load is of that form too, and what it costs is told by its courses' ``days``.
    """

    supply: Supply
    cuts: Cuts
    strands: Strands | None = None
    days: DayStrands | None = None

    @property
    def are_levelled(self) -> bool:
        """Return whether the hours of any check can lie otherwise than evenly."""
        return self.strands is not None

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
        """Return a load levelled within the limits of all stages together.

        So the linear form counts it: a bound of what the load costs, which may cost more.
        """
        shape = self.supply.regular.shape
        limits = load[self.cells : (1 + LIMITS) * self.cells].reshape(LIMITS, *shape)
        return level(self.supply, load[: self.cells].reshape(shape), limits)

    def spread(self, load: Floats) -> Spread:
        """Return a load levelled as cheaply as can be, each skill of each stage by itself."""
        assert self.strands is not None
        key = load.tobytes()
        if key not in self._known:
            if len(self._known) >= MOST_KNOWN:
                self._known.clear()
            courses = np.flatnonzero(load[(1 + LIMITS) * self.cells :] > 0.5)
            strands = self.strands.of(courses)
            self._known[key] = spread_out(strands, load[: self.cells], self.supply)
        return self._known[key]

    @cached_property
    def _known(self) -> dict[bytes, Spread]:
        return {}

    def on_days(self, load: Floats) -> DaySpread:
        """Return a load laid on days as cheaply as can be, each skill of each stage by itself."""
        assert self.days is not None
        key = load[(1 + LIMITS) * self.cells :].tobytes()
        if key not in self._known_days:
            if len(self._known_days) >= MOST_KNOWN:
                self._known_days.clear()
            laid = laid_on_days(self.days, self.courses(load), self.supply)
            self._known_days[key] = spread_over_days(*laid, self.supply)
        return self._known_days[key]

    @cached_property
    def _known_days(self) -> dict[bytes, DaySpread]:
        return {}

    def courses(self, load: Floats) -> Floats:
        """Return 1 for each course that is in a load, shape (courses,), behind its limits."""
        return load[(1 + LIMITS) * self.cells :]

    def asked(self, load: Floats) -> Floats:
        """Return what a load asks of each week and kind once it is levelled, (weeks, kinds)."""
        if self.days is not None:
            assert self.supply.days is not None
            by_week = np.zeros_like(self.supply.regular)
            np.add.at(by_week, self.supply.days.week, self.on_days(load).asked)
            return by_week
        asked = self.spread(load).asked if self.are_levelled else load
        return asked.reshape(self.supply.regular.shape)

    def excess(self, load: Floats) -> Floats:
        """Return the hours asked beyond the regular ones, shape (weeks, kinds)."""
        return np.maximum(self.asked(load) - self.supply.regular, 0.0)

    def bought(self, load: Floats) -> Floats:
        """Return the hours that each pool gives, shape (pools, weeks, kinds)."""
        if self.days is not None:
            return self.on_days(load).bought
        return share_out(self.supply, self.excess(load))

    def money(self, load: Floats) -> float:
        """Return what the hours beyond the regular ones cost."""
        if self.days is not None:
            return self.on_days(load).money
        return self.even_money(self.asked(load).ravel())

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


def hours_of(supply: Supply, strands: Strands | None = None) -> Hours:
    """Return the hours of a supply, for loads that are levelled where there are ``strands``."""
    days = DayStrands(strands) if strands is not None and supply.days is not None else None
    return Hours(supply, cuts_of(supply), strands, days)
