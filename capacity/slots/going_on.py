"""An earlier plan as the choice that a search begins with."""

import numpy as np
from numpy.typing import NDArray

from capacity.plans.plan import Plan
from capacity.slots.candidates import Slots
from capacity.slots.places import by_check_of, place_of
from capacity.slots.program import Program


def still_standing(
    plan: Plan, program: Program, slots: Slots, settled: NDArray[np.int64]
) -> NDArray[np.int64]:
    """Return what of a plan can still stand beside what is ``settled``: a column a check.

    The plan may be of an earlier state of the base. A check is out (-1) whose place is gone,
    since bay, day or length of a stage have changed, or taken by one that came in before it.
    """
    chosen = settled.copy()
    free = program.capacity - program.footprint[chosen[chosen >= 0]].sum(axis=0)
    number = {name: check for check, name in enumerate(program.checks)}
    for name, placements in by_check_of(plan).items():
        check = number.get(name)
        if check is None or chosen[check] >= 0:
            continue
        place = place_of(placements, slots.candidates[check], slots)
        if place is None:
            continue
        column = program.first_column[check] + place
        if program.stands(np.array([column]), free).all():
            chosen[check] = column
            free -= program.footprint[[column]].sum(axis=0)
    return chosen
