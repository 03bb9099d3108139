"""Shift patterns on their cycle."""

from datetime import date

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Crew


def attended_hours(crew: Crew, base: Base, origin: date, days: int) -> NDArray[np.float64]:
    """Return the hours one person of the crew attends on each day, shape (days,).

    A shift counts wholly on the day on which it starts.
    """
    cycle = base.pattern(crew.pattern).cycle
    hours = np.array([base.shift(name).hours if name is not None else 0.0 for name in cycle])
    phase = (origin - crew.starts_cycle_on).days
    return hours[(phase + np.arange(days)) % len(cycle)]
