"""Where the man-hours of a stage lie: as its plan states them, or evenly over its worked days."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from math import fsum

from capacity.plans.stays import LaidStage
from capacity.plans.weeks import monday_of, monday_of_week

HoursOfWeek = Mapping[tuple[date, str], float]
"""Man-hours by the Monday of the week and the skill."""


def days_by_week(stage: LaidStage, first_day: date, *, with_float: bool) -> Mapping[date, int]:
    """Return the days from ``first_day`` on that it may be worked, by the Monday of their week."""
    counts: defaultdict[date, int] = defaultdict(int)
    for day in (*stage.worked, *(stage.float_days if with_float else ())):
        if day >= first_day:
            counts[monday_of(day)] += 1
    return counts


def asked_in_all(stage: LaidStage, first_day: date) -> Mapping[str, float]:
    """Return the man-hours of each skill from ``first_day`` on, those that are done among them."""
    planned = sum(day >= first_day for day in stage.worked)
    return {
        skill: hours * planned / len(stage.worked) for skill, hours in stage.work.man_hours.items()
    }


def left_to_do(stage: LaidStage, first_day: date) -> Mapping[str, float]:
    """Return the man-hours of each skill that are not done yet; all of them where none are."""
    return {
        skill: max(0.0, hours - fsum(h for (_, s), h in stage.done.items() if s == skill))
        for skill, hours in asked_in_all(stage, first_day).items()
    }


def days_left(stage: LaidStage, first_day: date) -> Sequence[date]:
    """Return the worked days over which what is left lies evenly; its float where it has none."""
    from_day = max(first_day, stage.left_from or first_day)
    worked = [day for day in stage.worked if day >= from_day]
    return worked or [day for day in stage.float_days if day >= from_day]


def even_by_week(stage: LaidStage, first_day: date) -> HoursOfWeek:
    """Spread a stage evenly over its worked days; days before ``first_day`` drop out.

    In a re-plan what is done lies where it lies, and what is left over the days that are left.
    """
    if stage.left_from is None:
        return {
            (monday, skill): hours * days / len(stage.worked)
            for monday, days in days_by_week(stage, first_day, with_float=False).items()
            for skill, hours in stage.work.man_hours.items()
        }
    parts: defaultdict[tuple[date, str], list[float]] = defaultdict(list)
    for key, hours in stage.done.items():
        parts[key].append(hours)
    days = days_left(stage, first_day)
    for skill, left in left_to_do(stage, first_day).items():
        for day in days:
            parts[monday_of(day), skill].append(left / len(days))
    return {key: fsum(hours) for key, hours in parts.items()}


def hours_by_week(stage: LaidStage, first_day: date) -> HoursOfWeek:
    """Return where a stage's hours lie, week by week."""
    if not stage.stated:
        return even_by_week(stage, first_day)
    parts: defaultdict[tuple[date, str], list[float]] = defaultdict(list)
    for one in stage.stated:
        monday = monday_of_week(one.week)
        if monday is not None:
            parts[monday, one.skill].append(one.hours)
    return {key: fsum(hours) for key, hours in parts.items()}


def hours_by_day(stage: LaidStage, first_day: date) -> HoursOfWeek:
    """Return where a stage's hours lie, day by day: those of a week evenly over its days there.

    Where a plan states days, they lie as it states them.
    What is done of a week lies on its days before the day from which the rest is left.
    """
    if any(one.by_day for one in stage.stated):
        return _as_stated_by_day(stage, first_day)
    if not stage.stated and stage.left_from is None:
        return {
            (day, skill): hours / len(stage.worked)
            for day in stage.worked
            if day >= first_day
            for skill, hours in stage.work.man_hours.items()
        }
    found: defaultdict[tuple[date, str], float] = defaultdict(float)
    for (monday, skill), hours in hours_by_week(stage, first_day).items():
        for day, of_day in evenly_in_week(stage, first_day, monday, skill, hours).items():
            found[day, skill] += of_day
    return found


def _as_stated_by_day(stage: LaidStage, first_day: date) -> HoursOfWeek:
    found: defaultdict[tuple[date, str], float] = defaultdict(float)
    for one in stage.stated:
        monday = monday_of_week(one.week)
        days = dict(one.by_day)
        if monday is not None and not days:
            days = dict(evenly_in_week(stage, first_day, monday, one.skill, one.hours))
        for day, hours in days.items():
            found[day, one.skill] += hours
    return found


def evenly_in_week(
    stage: LaidStage, first_day: date, monday: date, skill: str, hours: float
) -> Mapping[date, float]:
    """Spread ``hours`` of a week over the days on which the stage may be worked in it."""
    before, from_then = days_of_week(stage, first_day, monday)
    done = min(hours, stage.done.get((monday, skill), 0.0)) if before else 0.0
    found = {day: done / len(before) for day in before}
    # Evenly spread hours need no float, unless no other day is left.
    own = [day for day in from_then if stage.stated or day in stage.worked]
    on = own or from_then
    if not before and not on:  # stated as done in a week without a day of the stage: its last one
        on = [monday + timedelta(days=6)]
    return {**found, **{day: (hours - done) / len(on) for day in on}}


def days_of_week(
    stage: LaidStage, first_day: date, monday: date
) -> tuple[Sequence[date], Sequence[date]]:
    """Return the days of a week on which a stage may be worked: before what is left, and then."""
    days = [
        day
        for day in (*stage.worked, *stage.float_days)
        if day >= first_day and monday_of(day) == monday
    ]
    split = stage.left_from or first_day
    return [day for day in days if day < split], [day for day in days if day >= split]
