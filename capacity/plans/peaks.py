"""How many of its man-hours a stage may take on one day."""

from math import fsum, inf

from capacity.facts import Base
from capacity.plans.spread import days_left, left_to_do
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


def most_of_a_day(stage: LaidStage, skill: str, base: Base) -> float:
    """Return the most man-hours of a skill that the stage may take on one of its days.

    What is left of a stage in a re-plan may be more a day than that: then it is their even share.
    """
    most = peak_of(stage, base) * stage.work.man_hours.get(skill, 0.0) / len(stage.worked)
    if stage.left_from is None or skill not in stage.work.man_hours:
        return most
    days = days_left(stage, base.first_day)
    return max(most, left_to_do(stage, base.first_day)[skill] / len(days)) if days else most


def _hours_of_shifts(base: Base, *, by_night: bool) -> float:
    """Return the hours of the shifts that crews work, no more than a day has."""
    patterns = {pattern.name: pattern.cycle for pattern in base.patterns}
    worked = {shift for crew in base.crews for shift in patterns[crew.pattern]}
    shifts = (shift for shift in base.shifts if shift.name in worked)
    return min(HOURS_OF_A_DAY, fsum(s.hours for s in shifts if by_night or not s.night))
