"""Every knob of a crew plan, with its unit, default and reason."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class CrewSettings:
    """Which days to staff, and how.

    ``weeks`` from ``first_day`` on (the first day of the base when None). ``seconds``: wall
    time. ``overtime_hours``: attended hours that a person may stay longer, a shift.
    ``call_in``: whether people may be called in on days off, each once in seven days at the
    most. ``own_staff_share``: ``hold`` keeps contract people at half of each hangar and shift
    at the most, ``warn`` only tells where they are more, ``off`` says nothing. ``parts``: a
    person works on one aircraft for a whole number of so many equal parts of a shift.
    """

    weeks: int = 4
    first_day: date | None = None
    seconds: float = 60.0
    seed: int = 1
    workers: int = 2
    overtime_hours: float = 2.0
    call_in: bool = True
    own_staff_share: str = "warn"
    parts: int = 4
