"""Good plans joined: the best plan that can be made of the slots of several of them.

Two plans of different kinds hardly ever cross well by chance. Branch-and-cut over the few columns
that some good plan has finds the best of all their crossings at once: optimized crossover
(Aggarwal, Orlin and Tai, 1997) and tour merging (Cook and Seymour, 2003), both from memory.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from capacity.slots.program.choice import Choice
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.program import Restricted


def join(
    restricted: Restricted, plans: Sequence[Choice], most_columns: int, seconds: float
) -> Choice | None:
    """Return the best choice over the columns of ``plans`` found in so many ``seconds``.

    Plans and answer are in the numbers of the whole program. The first plan is begun with, and
    plans are left out from the one on with which there would be more than ``most_columns``. None
    if nothing is found.
    """
    # Imported here: the engines take a second that the first annealing should not wait for.
    from capacity.slots.engines.highs import branch_and_cut

    columns = np.isin(restricted.number, _columns_of(plans, most_columns))
    few = restricted.then(restricted.program.restricted_to(columns))
    start = few.from_whole(plans[0])
    found = branch_and_cut(money_form(few.program), start, seconds, restarts=False).chosen
    return None if found is None else few.to_whole(found)


def _columns_of(plans: Sequence[Choice], most: int) -> NDArray[np.int64]:
    """Return the columns of the first plans: of as many as have no more than ``most`` together."""
    columns = np.unique(plans[0][plans[0] >= 0])
    for plan in plans[1:]:
        more = np.union1d(columns, plan[plan >= 0])
        if len(more) > most:
            break
        columns = more
    return columns
