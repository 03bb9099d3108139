"""Which plan each base has: the cheapest that go together."""

import numpy as np
from scipy.sparse import csr_array

from capacity.errors import EngineError
from capacity.network.whole_plans import WholePlan, WholePlans
from capacity.slots.engines.posting import LinearModel, values_of

# It has some hundred columns, and is solved in an instant.
SECONDS = 60.0


def cheapest_together(plans: WholePlans) -> tuple[WholePlan, ...]:
    """Return a plan of each base, each enquiry taken once at the most, at the least cost.

    With the plans p found of base b as columns, 0 or 1::

        least    sum of cost[p] x[p]
        each b   sum over p of b of x[p]  =  1
        each j   sum over p that take the enquiry j of x[p]  <=  1

    The restricted master of column generation (Dantzig and Wolfe 1960), in whole numbers; the
    sources are from memory.
    """
    plans.make_room()
    columns = [one for at in plans.bases for one in plans.of(at)]
    names = list(plans.bases)
    shared = sorted(frozenset[str]().union(*(one.taken for one in columns)))
    row_of = {name: len(names) + number for number, name in enumerate(shared)}
    entries = [
        (row, column)
        for column, one in enumerate(columns)
        for row in (names.index(one.at), *(row_of[name] for name in sorted(one.taken)))
    ]
    rows, places = (np.array(each) for each in zip(*entries, strict=True))
    shape = (len(names) + len(shared), len(columns))
    model = LinearModel(
        matrix=csr_array((np.ones(len(entries)), (rows, places)), shape=shape),
        row_lower=np.concatenate([np.ones(len(names)), np.zeros(len(shared))]),
        row_upper=np.ones(shape[0]),
        lower=np.zeros(shape[1]),
        upper=np.ones(shape[1]),
        cost=np.array([one.cost for one in columns]),
        is_whole=np.ones(shape[1], dtype=np.bool_),
    )
    values = values_of(model, SECONDS, 0.0, whole=True)
    if values is None:
        raise EngineError("no plans of the bases go together")
    chosen = {columns[place].at: columns[place] for place in np.flatnonzero(values > 0.5)}
    return tuple(chosen[name] for name in names)
