"""The candidates and the program of a base, for peers that work on the same program."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.slots.candidates import Slots
from capacity.slots.program.build import build
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program


@dataclass(frozen=True)
class Built:
    """A base's candidates and program."""

    slots: Slots
    program: Program

    def plan(self, chosen: NDArray[np.int64]) -> Plan:
        """Return the plan that a choice of columns stands for."""
        return plan_of(chosen, self.program, self.slots)


def built(base: Base) -> Built:
    """Go from the facts to the program."""
    made = build(base)
    return Built(made.slots, made.program)
