"""The program of choices with so few days past, without columns that none of them needs."""

from dataclasses import replace

import numpy as np

from capacity.slots.dominated_columns import stand_ins
from capacity.slots.impossible_columns import possible_columns
from capacity.slots.program import Kept, Program


def narrowed(program: Program, days: int) -> Kept:
    """Return the program of choices with at most ``days`` past, with their columns only.

    Columns that no such choice can have are left out, and those for which another stands in;
    ``from_whole`` puts the stand-ins in. The least cost is that of ``within_days``. HiGHS
    drops such columns itself, but does not see then that a plan with one can be had without.
    """
    kept = program.within_days(days)
    kept = kept.then(kept.program.kept(possible_columns(kept.program)))
    stand_in = np.arange(program.size)
    while True:
        better = stand_ins(kept.program)
        own = better == np.arange(kept.program.size)
        if own.all():
            return replace(kept, stand_in=stand_in)
        replaced = np.arange(program.size)
        replaced[kept.number] = kept.number[better]
        stand_in = replaced[stand_in]
        kept = kept.then(kept.program.kept(own))
