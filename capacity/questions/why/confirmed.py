"""What the program that plans says of a place that the rules known here leave free."""

from collections.abc import Sequence

import numpy as np

from capacity.facts import Base
from capacity.labour.calendar import calendar_of
from capacity.plans.plan import Placement, Plan
from capacity.questions.asking.places import only_places, places_of
from capacity.questions.asking.single_bays import single_bays
from capacity.slots.candidates import Slots, find_slots
from capacity.slots.program.build import program_over
from capacity.slots.program.places import columns_at, old_places, place_of


def slots_of(base: Base, plan: Plan) -> Slots:
    """Return the slots from which a base is planned beside a plan, every bay by itself."""
    return single_bays(find_slots(base, calendar_of(base), stated=plan.by_check()))


def are_all_placed(plan: Plan, slots: Slots) -> bool:
    """Return whether every place of a plan is among the slots."""
    by_check = plan.by_check()
    places = old_places(slots, by_check)
    names = [candidates.courses.check.name for candidates in slots.candidates]
    return all(
        place >= 0 or name not in by_check for name, place in zip(names, places, strict=True)
    )


class Beside:
    """The program of a plan with every check but one held where the plan has it."""

    def __init__(self, base: Base, plan: Plan, name: str, slots: Slots) -> None:
        """Make the program of the places of a check among the ``slots`` of the base.

        Raises ``InputError`` as ``places_of`` does.
        """
        names = [candidates.courses.check.name for candidates in slots.candidates]
        self._number, places = names.index(name), places_of(plan, slots)
        held = np.arange(len(names)) != self._number
        self._slots = only_places(slots, places, held)
        self._program = program_over(self._slots, base)
        others = columns_at(np.where(held & (places >= 0), 0, -1), self._program)
        self._slack = self._program.slack(others)

    def lets_stand(self, placements: Sequence[Placement]) -> bool:
        """Return whether the program has this place of the check, and room for it."""
        in_turn = sorted(placements, key=lambda placement: placement.in_day)
        place = place_of(in_turn, self._slots.candidates[self._number], self._slots)
        if place is None:
            return False
        column = np.array([self._program.first_column[self._number] + place])
        return bool(self._program.fits(column, self._slack)[0])

    def has_free_place(self) -> bool:
        """Return whether there is room for the check in any of its places by ``Latest in``."""
        program, number = self._program, self._number
        columns = program.columns_of(number)
        on_time = columns[program.past[columns] == 0]
        return bool(program.fits(on_time, self._slack).any())
