"""Shift patterns on their cycle."""

from datetime import date

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Crew, Pattern, Shift


def attended_hours(
    crew: Crew, patterns: dict[str, Pattern], shifts: dict[str, Shift], origin: date, days: int
) -> NDArray[np.float64]:
    """Return the hours one person of the crew attends on each day, shape (days,).

    A shift counts wholly on the day on which it starts.
    """
    cycle = patterns[crew.pattern].cycle
    hours = np.array([shifts[name].hours if name is not None else 0.0 for name in cycle])
    phase = (origin - crew.starts_cycle_on).days
    return hours[(phase + np.arange(days)) % len(cycle)]
