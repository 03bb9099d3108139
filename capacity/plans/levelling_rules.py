"""The man-hours that a plan states by week are the stage's own, within its peak and its days."""

from collections import defaultdict
from collections.abc import Iterator
from math import fsum

from capacity.facts import Base
from capacity.plans.peaks import peak_of
from capacity.plans.spread import days_by_week, even_by_week
from capacity.plans.stays import LaidStage, Stay
from capacity.plans.week_hours import TOLERANCE
from capacity.plans.weeks import monday_of_week
from capacity.words import counted


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
    by_week: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    stated: defaultdict[str, list[float]] = defaultdict(list)
    even: defaultdict[str, list[float]] = defaultdict(list)
    for (_, skill), hours in even_by_week(stage, base.first_day).items():
        even[skill].append(hours)
    days = days_by_week(stage, base.first_day, with_float=True)
    peak = peak_of(stage, base)
    for one in stage.stated:
        by_week[one.week, one.skill].append(one.hours)
        stated[one.skill].append(one.hours)
    for skill in stated:
        if skill not in stage.work.man_hours:
            yield f"{does} with man-hours of {skill}, of which it takes none."
    for (week, skill), parts in by_week.items():
        told = fsum(parts)
        monday = monday_of_week(week)
        here = 0 if monday is None else days.get(monday, 0)
        most = peak * stage.work.man_hours.get(skill, 0.0) * here / len(stage.worked)
        if min(parts) < -TOLERANCE:
            yield f"{does} with {min(parts):.2f} man-hours of {skill} in {week}."
        elif told > most + TOLERANCE:
            yield (
                f"{does} with {told:.2f} man-hours of {skill} in {week}, but its "
                f"{counted(here, 'day')} there may take {most:.2f} at the most."
            )
    for skill in {**even, **stated}:
        found, asked = fsum(stated[skill]), fsum(even[skill])
        if abs(found - asked) > TOLERANCE:
            yield f"{does} with {found:.2f} man-hours of {skill} in all, but it takes {asked:.2f}."
