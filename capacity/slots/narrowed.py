"""Programs without columns that no choice needs: impossible ones and dominated ones."""

from dataclasses import replace

import numpy as np

from capacity.slots.dominated_columns import stand_ins
from capacity.slots.impossible_columns import possible_columns
from capacity.slots.program import Kept, Program


def possible_within(program: Program, days: int) -> Kept:
    """Return the program of choices with at most ``days`` past, with their columns only."""
    kept = program.within_days(days)
    return kept.then(kept.program.kept(possible_columns(kept.program)))


def narrowed(kept: Kept, size: int) -> Kept:
    """Return what is kept of a program of so many columns, but for the dominated ones.

    ``from_whole`` puts in those that stand in for them; the least cost stays what it is. HiGHS
    drops such columns itself, but does not see then that a plan with one can be had without.
    """
    stand_in = np.arange(size)
    while True:
        better = stand_ins(kept.program)
        own = better == np.arange(kept.program.size)
        if own.all():
            return replace(kept, stand_in=stand_in)
        replaced = np.arange(size)
        replaced[kept.number] = kept.number[better]
        stand_in = replaced[stand_in]
        kept = kept.then(kept.program.kept(own))
