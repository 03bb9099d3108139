"""Where man-hours beyond the regular ones may come from: arcs from pools into cells."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.labour.supply import Supply


@dataclass(frozen=True)
class Arcs:
    """Where hours beyond the regular ones may go: from a pool into a cell, (arcs,) each.

    ``limit`` is what the pool has in the cell's week. ``common`` numbers the arcs that share
    a pool and week with others, -1 for an arc that has them to itself; ``common_limit`` is
    that of each number.
    """

    cells: NDArray[np.int64]
    pool: NDArray[np.int64]
    cell: NDArray[np.int64]
    price: NDArray[np.float64]
    limit: NDArray[np.float64]
    common: NDArray[np.int64]
    common_limit: NDArray[np.float64]

    def gives(self) -> csr_array:
        """Return what an hour of each arc gives to each of the ``cells``, (cells, arcs)."""
        arcs = np.arange(len(self.pool))
        row = np.searchsorted(self.cells, self.cell)
        return csr_array((np.ones(len(arcs)), (row, arcs)), shape=(len(self.cells), len(arcs)))

    def draws(self) -> csr_array:
        """Return what it takes of each pool and week that arcs share, (commons, arcs)."""
        shared = np.flatnonzero(self.common >= 0)
        return csr_array(
            (np.ones(len(shared)), (self.common[shared], shared)),
            shape=(len(self.common_limit), len(self.pool)),
        )


def arcs_into(cells: NDArray[np.int64], supply: Supply) -> Arcs:
    """Return the arcs into the cells, pool by pool."""
    week, kind = np.divmod(cells, max(1, supply.kinds))
    pool, place = np.nonzero(supply.serves[:, kind])
    limit = supply.pool_hours[pool, week[place]]
    key = pool * supply.weeks + week[place]
    _, first, number, count = np.unique(
        key, return_index=True, return_inverse=True, return_counts=True
    )
    together = (count > 1) & np.isfinite(limit[first])
    renumbered = np.where(together, np.cumsum(together) - 1, -1)
    return Arcs(
        cells=cells,
        pool=pool,
        cell=cells[place],
        price=supply.pool_price[pool, kind[place]],
        limit=limit,
        common=renumbered[number],
        common_limit=limit[first][together],
    )
