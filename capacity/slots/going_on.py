"""An earlier plan as the choice that a search begins with."""

import numpy as np
from numpy.typing import NDArray

from capacity.plans.plan import Plan
from capacity.slots.candidates import Slots
from capacity.slots.places import by_check_of, columns_at, old_places
from capacity.slots.program import Program


def still_standing(
    plan: Plan, program: Program, slots: Slots, settled: NDArray[np.int64]
) -> NDArray[np.int64]:
    """Return what of a plan can still stand beside what is ``settled``: a column a check.

    The plan may be of an earlier state of the base. A check is out (-1) whose place is gone,
    since bay, day or length of a stage have changed, or taken by one that came in before it.
    """
    old = columns_at(old_places(slots, by_check_of(plan)), program)
    return kept_beside(settled, old, program)


def kept_beside(
    begin: NDArray[np.int64], old: NDArray[np.int64], program: Program
) -> NDArray[np.int64]:
    """Return ``begin`` with all others in their ``old`` columns that stand beside it.

    A column a check, -1 for none. Who comes in soonest stays first.
    """
    chosen = begin.copy()
    room = program.capacity - program.footprint[chosen[chosen >= 0]].sum(axis=0)
    staying = np.flatnonzero((old >= 0) & (begin < 0))
    for check in staying[np.argsort(program.in_day[old[staying]], kind="stable")]:
        if program.stands(old[[check]], room)[0]:
            chosen[check] = old[check]
            room = room - program.footprint[old[[check]]].sum(axis=0)
    return chosen
