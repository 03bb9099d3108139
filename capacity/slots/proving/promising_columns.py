"""The columns of a program that good choices are likely made of, told by its relaxation.

A relaxation gives each column a reduced cost: no choice that has the column costs less than the
relaxation's value and that (weak duality). Most columns have a large one, so good choices are made
of a few thousand; over these branch-and-cut is done in seconds where over all it takes minutes.
What is proven over them is proven for all: a choice is made of columns taken, or has one that was
left out. Fixing columns by their reduced costs is from Dantzig, Fulkerson and Johnson (1954);
from memory, not checked against the text.
"""

from dataclasses import dataclass
from typing import Self

import numpy as np

from capacity.slots.engines.highs import Relaxation
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program, Restricted
from capacity.slots.program.promising import of_least_reduced_cost


@dataclass(frozen=True)
class Promising:
    """A program over its columns of least reduced cost.

    ``others_cost_at_least`` is the money of every choice that has another column, or more.
    """

    restricted: Restricted
    others_cost_at_least: float

    @classmethod
    def of(cls, program: Program, relaxation: Relaxation, count: int, best: Choice | None) -> Self:
        """Return the program over ``count`` columns, and those of the ``best`` choice known."""
        reduced = relaxation.reduced_costs[: program.size]
        taken = of_least_reduced_cost(reduced, count, best)
        least = float(reduced[~taken].min(initial=np.inf))
        return cls(program.restricted_to(taken), relaxation.value + max(0.0, least))

    def bound(self, proven: float) -> float:
        """Return the least cost of all choices, ``proven`` being that of those made of these."""
        return min(proven, self.others_cost_at_least)
