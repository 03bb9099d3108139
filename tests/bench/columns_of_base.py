"""The candidates and the program of a base, for peers that work on the same program."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base
from capacity.labour.available import available_hours
from capacity.labour.calendar import calendar_of
from capacity.plans.plan import Plan
from capacity.slots.candidates.enumerated import Slots, find_slots
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program, build_program


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
    calendar = calendar_of(base)
    slots = find_slots(base, calendar)
    return Built(slots, build_program(slots, base, available_hours(base, calendar)))
