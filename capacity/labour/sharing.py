"""Share out the hours of crews that serve several kinds of work, as cheaply as can be."""

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.errors import EngineError
from capacity.labour.supply import Floats, Supply


def share_out(supply: Supply, excess: Floats) -> Floats:
    """Return the hours from each pool to each kind, shape (pools, weeks, kinds).

    ``excess`` (weeks, kinds) are the hours asked beyond the regular ones. Minimise
    sum of price x hours, so that every kind is given its excess and no pool more than it
    has in any week.
    """
    hours = np.zeros((len(supply.pool_names), *excess.shape))
    widths, _ = supply.tiers
    left = np.where(supply.is_shared, 0.0, excess)
    for tier, width in enumerate(widths):
        taken = np.minimum(left, width)
        left = left - taken
        for kind in np.flatnonzero(~supply.is_shared):
            hours[supply.own_pools[kind][tier], :, kind] = taken[:, kind]
    for members in supply.families:
        _share_family(supply, members, excess, hours)
    return hours


def _share_family(
    supply: Supply, members: NDArray[np.int64], excess: Floats, hours: Floats
) -> None:
    """Add what the pools of one family give in the weeks in which it is asked anything."""
    weeks = np.flatnonzero(excess[:, members].sum(axis=1) > 0)
    pools = np.flatnonzero(supply.serves[:, members].any(axis=1))
    if not len(weeks):
        return
    # A quarter of what a side of the search takes to start, and few of them ever need it.
    from scipy.optimize import linprog

    # One variable an arc: pool, week, kind.
    pool, week, kind = (
        array.ravel() for array in np.meshgrid(pools, weeks, members, indexing="ij")
    )
    there = supply.serves[pool, kind]
    pool, week, kind = pool[there], week[there], kind[there]
    arcs, ones = np.arange(len(pool)), np.ones(len(pool))
    asked, asked_row = np.unique(week * supply.kinds + kind, return_inverse=True)
    room, room_row = np.unique(pool * supply.weeks + week, return_inverse=True)
    ample = np.isinf(supply.pool_hours.ravel()[room])
    is_given = csr_array((ones, (asked_row, arcs)), shape=(len(asked), len(arcs)))
    is_taken = csr_array((ones, (room_row, arcs)), shape=(len(room), len(arcs)))
    solved = linprog(  # type: ignore[call-overload]  # its stubs know no sparse matrices
        supply.pool_price[pool, kind],
        A_ub=is_taken[np.flatnonzero(~ample)],
        b_ub=supply.pool_hours.ravel()[room[~ample]],
        A_eq=is_given,
        b_eq=excess.ravel()[asked],
        method="highs",
    )
    if solved.x is None:
        raise EngineError(f"man-hours could not be shared out: {solved.message}")
    hours[pool, week, kind] = solved.x
