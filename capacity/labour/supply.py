"""Man-hours there are and what more of them cost, as pools that kinds of work draw on."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class DaySupply:
    """The same hours day by day, for the kinds and pools of a ``Supply``.

    ``week`` (days,) numbers the week of each day. ``regular`` (days, kinds) is there on its day
    only, and so is ``on_day`` (pools, days); ``any_day`` (pools, weeks) may lie on any days of its
    week, all of it on one. The hours of a pool in a week are the sum of both.
    """

    week: NDArray[np.int64]
    regular: Floats
    on_day: Floats
    any_day: Floats


@dataclass(frozen=True)
class Supply:
    """What can be given to each kind of work, week by week, in man-hours.

    ``skill_of`` (kinds,) numbers the skill of each kind. ``regular`` (weeks, kinds) costs
    nothing and serves one kind only. Beyond it, pool p has
    ``pool_hours[p, week]`` for all the kinds that it serves together; an hour of it costs
    ``pool_price[p, kind]``, inf for a kind that it does not serve. Every kind is served by
    an endless pool, overload. ``overtime_cap`` and ``contract_cap`` (weeks, skills) are the
    widths of those pools. ``days`` are the same hours day by day, where days are priced.
    """

    skill_of: NDArray[np.int64]
    regular: Floats
    pool_names: tuple[str, ...]
    pool_hours: Floats
    pool_price: Floats
    overtime_cap: Floats
    contract_cap: Floats
    days: DaySupply | None = None

    @property
    def weeks(self) -> int:
        """Return the number of weeks."""
        return len(self.regular)

    @property
    def kinds(self) -> int:
        """Return the number of kinds of work."""
        return len(self.skill_of)

    @cached_property
    def serves(self) -> NDArray[np.bool_]:
        """Return which pool serves which kind, shape (pools, kinds)."""
        return np.isfinite(self.pool_price)

    @cached_property
    def is_shared(self) -> NDArray[np.bool_]:
        """Return which kinds draw on a pool that other kinds draw on too, shape (kinds,)."""
        several = self.serves.sum(axis=1) > 1
        shared: NDArray[np.bool_] = (self.serves & several[:, None]).any(axis=0)
        return shared

    @cached_property
    def families(self) -> tuple[NDArray[np.int64], ...]:
        """Return the shared kinds in families that draw on no pool of each other's."""
        # Here, since a side of the search starts sooner without, and is told the families.
        from scipy.sparse.csgraph import connected_components

        links = csr_array(self.serves.astype(np.int64))
        _, family = connected_components(links.T @ links, directed=False)
        shared = np.flatnonzero(self.is_shared)
        return tuple(shared[family[shared] == number] for number in np.unique(family[shared]))

    @property
    def of_kinds(self) -> tuple[tuple[int, ...], ...]:
        """Return the kinds in families; one that shares no pool is a family of its own."""
        alone = [(int(kind),) for kind in np.flatnonzero(~self.is_shared)]
        return (*alone, *(tuple(int(kind) for kind in family) for family in self.families))

    @cached_property
    def own_pools(self) -> tuple[NDArray[np.int64], ...]:
        """Return the pools that serve each kind alone, the cheapest first."""
        alone = self.serves & (self.serves.sum(axis=1) == 1)[:, None]
        return tuple(
            pools[np.argsort(self.pool_price[pools, kind], kind="stable")]
            for kind, pools in enumerate(np.flatnonzero(column) for column in alone.T)
        )

    @cached_property
    def tiers(self) -> tuple[Floats, Floats]:
        """Return widths and prices of the hours beyond the regular ones, the cheapest first.

        Both have shape (tiers, weeks, kinds). Only for kinds that share no pool; the widths
        of the others are 0.
        """
        plain = np.flatnonzero(~self.is_shared)
        most = max((len(self.own_pools[kind]) for kind in plain), default=0)
        widths, prices = np.zeros((2, most, self.weeks, self.kinds))
        for kind in plain:
            pools = self.own_pools[kind]
            widths[: len(pools), :, kind] = self.pool_hours[pools]
            prices[: len(pools), :, kind] = self.pool_price[pools, kind, None]
        return widths, prices
