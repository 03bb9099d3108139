"""How many of its man-hours a stage may take on one day."""

from math import fsum, inf

from capacity.facts import Base
from capacity.plans.stays import LaidStage

HOURS_OF_A_DAY = 24.0


def peak_of(stage: LaidStage, base: Base) -> float:
    """Return the most of a day as a multiple of the even share, which heads may lower to 1."""
    work = stage.work
    by_heads = inf
    if work.max_heads is not None and work.total > 0.0:
        hours = _hours_of_shifts(base, by_night=work.by_night)
        room = work.max_heads * hours * base.productivity
        by_heads = room * len(stage.worked) / work.total
    return max(1.0, min(work.daily_peak, by_heads))


def _hours_of_shifts(base: Base, *, by_night: bool) -> float:
    """Return the hours of the shifts that crews work, no more than a day has."""
    patterns = {pattern.name: pattern.cycle for pattern in base.patterns}
    worked = {shift for crew in base.crews for shift in patterns[crew.pattern]}
    shifts = (shift for shift in base.shifts if shift.name in worked)
    return min(HOURS_OF_A_DAY, fsum(s.hours for s in shifts if by_night or not s.night))
