"""Hours that a crew plan buys against those of its slot plan, and what asks for more."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

AGREE_SHARE = 0.02
"""Crew plan and slot plan agree where the one buys no more than so much beyond the other."""

LEAST_HOURS = 0.05
"""Man-hours that are no more than rounding."""


class Step(StrEnum):
    """What asks for more, in the order in which it is taken in."""

    DAYS = "days and shifts of the rosters"
    NIGHT = "stages not worked by night"
    HEADS = "Max heads"
    LICENCES = "licence cover"
    CRITICAL = "two people on critical work"
    OWN_STAFF = "own-staff share"
    PEOPLE = "Whole people in parts of a shift, and what the search left open"


@dataclass(frozen=True, slots=True)
class Bought:
    """Man-hours beyond the rosters in the days staffed: overtime, contract to be hired, overload.

    ``slot_plan`` are those of the slot plan's weeks, of a week staffed in part its share of days.
    Where the ``crew_plan`` asks for more than a trifle more, ``by_step`` says why: what each
    step adds, on top of those before it, to the least that crews must be given beyond their
    shifts, with the stages where the crew plan has them. These figures are proven, but for the
    last, what is left: whole quarters of people, and what the search left open.
    """

    slot_plan: float
    crew_plan: float
    by_step: Mapping[Step, float] = field(default_factory=dict)

    @property
    def more(self) -> float:
        """Return by how much the crew plan buys more."""
        return self.crew_plan - self.slot_plan

    @property
    def agrees(self) -> bool:
        """Return whether it buys no more than a trifle more."""
        return self.more <= AGREE_SHARE * self.slot_plan + LEAST_HOURS
