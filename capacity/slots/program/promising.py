"""Which columns are likely in good choices, told by the reduced costs of a relaxation."""

import numpy as np
from numpy.typing import NDArray

from capacity.slots.program.choice import Choice


def of_least_reduced_cost(
    reduced_costs: NDArray[np.float64], count: int, kept: Choice | None
) -> NDArray[np.bool_]:
    """Return which columns (columns,) are the ``count`` of least reduced cost, or in ``kept``.

    Of columns that have the same the first ones.
    """
    taken = np.zeros(len(reduced_costs), dtype=np.bool_)
    taken[np.argsort(reduced_costs, kind="stable")[:count]] = True
    if kept is not None:
        taken[kept[kept >= 0]] = True
    return taken
