"""Skills, and the crews, shifts and absences that give man-hours in them."""

from dataclasses import dataclass
from datetime import date, time
from enum import StrEnum


class Employment(StrEnum):
    """Whose people a crew's people are."""

    EMPLOYED = "employed"
    CONTRACT = "contract"


@dataclass(frozen=True, slots=True)
class Skill:
    """A trade, with the money per man-hour and the caps of its dearer hours.

    The caps are shares of the week's regular man-hours of the employed crews whose own
    skill it is.
    """

    name: str
    overtime_cost: float
    overtime_cap: float
    contract_cost: float
    contract_cap: float
    licence: str = ""


@dataclass(frozen=True, slots=True)
class Shift:
    """``hours`` are attended hours without the unpaid break."""

    name: str
    start: time
    hours: float
    night: bool = False


@dataclass(frozen=True, slots=True)
class Pattern:
    """Shift names in turn, day by day; None is a day off. The cycle repeats."""

    name: str
    cycle: tuple[str | None, ...]


@dataclass(frozen=True, slots=True)
class Crew:
    """People who work the same pattern; the first skill is the crew's own.

    An empty ``types`` means that they are authorised on all aircraft types. ``area`` is the
    hangar or workshop in which they work; blank where it is not told. ``first`` and ``last`` are
    the first and last day on which the crew is there; None is no such day. Of a contract crew
    ``guaranteed_hours`` man-hours a week are paid, used or not.
    """

    name: str
    skills: tuple[str, ...]
    heads: int
    pattern: str
    starts_cycle_on: date
    types: frozenset[str] = frozenset()
    employment: Employment = Employment.EMPLOYED
    area: str = ""
    first: date | None = None
    last: date | None = None
    guaranteed_hours: float = 0.0

    def is_there_on(self, day: date) -> bool:
        """Return whether the crew belongs to the base on a day, at work or not."""
        return (self.first is None or self.first <= day) and (self.last is None or day <= self.last)


@dataclass(frozen=True, slots=True)
class Licence:
    """``people`` of a crew whose licence for a skill, or authorisation for a type, ends.

    ``of`` names the skill or the type, and ``until`` is the last day on which they have it. Rows of
    one crew that name different things are taken to be of the same people, as far as can be.
    """

    crew: str
    of: str
    people: int
    until: date


@dataclass(frozen=True, slots=True)
class Absence:
    """``heads`` of a crew away from ``first`` to ``last``, both included."""

    crew: str
    first: date
    last: date
    heads: float
    reason: str = ""
