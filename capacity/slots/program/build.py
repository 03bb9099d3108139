"""From a base to its program: the candidates of all checks, over the hours that there are."""

from dataclasses import dataclass

from capacity.facts import Base
from capacity.labour.available import available_hours
from capacity.labour.calendar import calendar_of
from capacity.slots.candidates import Slots, find_slots
from capacity.slots.line.heed import Heed, nobody_stops
from capacity.slots.program.program import Program, build_program


@dataclass(frozen=True)
class Built:
    """What can be planned, as candidates and as a program over them."""

    slots: Slots
    program: Program


def build(base: Base, heed: Heed = nobody_stops) -> Built:
    """Return the whole program of a base; raises ``TooLargeError`` as ``build_program`` does."""
    slots = find_slots(base, calendar_of(base), heed)
    return Built(slots, program_over(slots, base, heed))


def program_over(slots: Slots, base: Base, heed: Heed = nobody_stops) -> Program:
    """Return the program over some slots of a base and the hours of its crews."""
    return build_program(slots, base, available_hours(base, slots.calendar), heed)
