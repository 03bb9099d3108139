"""A crew plan: which people of which crew work on which aircraft, shift by shift."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Attendance:
    """``heads`` people of a crew on one aircraft during one shift, in one skill.

    People may share their shift between aircraft: 2.25 heads are as much as two people for
    the whole of it and one for a quarter. ``day`` is the day on which the shift starts.
    ``overtime_hours`` are man-hours that the
    crew's people give this aircraft beyond their shift.
    """

    day: date
    shift: str
    crew: str
    check: str
    skill: str
    heads: float
    overtime_hours: float = 0.0


@dataclass(frozen=True, slots=True)
class StageHours:
    """Man-hours, above 0, that a crew gives to one stage of a check during one shift."""

    day: date
    shift: str
    crew: str
    check: str
    stage: str
    skill: str
    hours: float


@dataclass(frozen=True, slots=True)
class StageMove:
    """A stage that the crew plan runs over ``[first, until)``; the slot plan had ``planned``."""

    check: str
    stage: str
    first: date
    until: date
    planned: date


@dataclass(frozen=True, slots=True)
class Short:
    """Man-hours of a stage, above 0, that no crew gives within the days of the stage."""

    check: str
    stage: str
    skill: str
    hours: float


@dataclass(frozen=True, slots=True)
class CrewPlan:
    """The crews of the days ``[first_day, until)``.

    ``stages`` are all stages that take place in these days, moved or not; ``bought`` are
    contract hours by stage that no crew of the roster gives.
    """

    first_day: date
    until: date
    attendance: tuple[Attendance, ...]
    work: tuple[StageHours, ...]
    stages: tuple[StageMove, ...]
    bought: tuple[Short, ...]
    short: tuple[Short, ...]
