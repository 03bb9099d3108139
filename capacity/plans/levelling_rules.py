"""The man-hours that a plan states by week are the stage's own, within its peak and its days."""

from collections import defaultdict
from collections.abc import Iterator
from math import fsum, inf

from capacity.facts import Base
from capacity.plans.spread import days_by_week, even_by_week
from capacity.plans.stays import LaidStage, Stay
from capacity.plans.week_hours import TOLERANCE
from capacity.plans.weeks import monday_of_week

HOURS_OF_A_DAY = 24.0


def broken(stay: Stay, base: Base) -> Iterator[str]:
    """Say which stated hours are not those of the stage, or more than its days may take.

    For each skill with man-hours h, spread evenly over n worked days::

        hours of all weeks = h x (worked days from the first day on) / n
        0 <= hours of a week <= most of a day x days in the week, its float among them

    The most of a day is ``daily_peak`` x h / n, or what heads leave room for if that is less;
    but never less than the even share.
    """
    for stage in stay.stages:
        if stage.stated:
            yield from _broken(stay.check.name, stage, base)


def _broken(check: str, stage: LaidStage, base: Base) -> Iterator[str]:
    does = f"{check} does {stage.work.stage}"
    stated: defaultdict[str, list[float]] = defaultdict(list)
    even: defaultdict[str, list[float]] = defaultdict(list)
    for (_, skill), hours in even_by_week(stage, base.first_day).items():
        even[skill].append(hours)
    days = days_by_week(stage, base.first_day, with_float=True)
    peak = _peak(stage, base)
    for one in stage.stated:
        stated[one.skill].append(one.hours)
        whole = stage.work.man_hours.get(one.skill, 0.0)
        monday = monday_of_week(one.week)
        here = 0 if monday is None else days.get(monday, 0)
        most = peak * whole * here / len(stage.worked)
        if one.hours < -TOLERANCE:
            yield f"{does} with {one.hours:.2f} man-hours of {one.skill} in {one.week}."
        elif one.hours > most + TOLERANCE:
            yield (
                f"{does} with {one.hours:.2f} man-hours of {one.skill} in {one.week}, but its "
                f"{here} days there may take {most:.2f} at the most."
            )
    for skill in {**even, **stated}:
        found, asked = fsum(stated[skill]), fsum(even[skill])
        if abs(found - asked) > TOLERANCE:
            yield f"{does} with {found:.2f} man-hours of {skill} in all, but it takes {asked:.2f}."


def _peak(stage: LaidStage, base: Base) -> float:
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
