"""Where the man-hours of a stage lie: as its plan states them, or evenly over its worked days."""

from collections import defaultdict
from collections.abc import Mapping
from datetime import date
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


def even_by_week(stage: LaidStage, first_day: date) -> HoursOfWeek:
    """Spread a stage evenly over its worked days; days before ``first_day`` drop out."""
    return {
        (monday, skill): hours * days / len(stage.worked)
        for monday, days in days_by_week(stage, first_day, with_float=False).items()
        for skill, hours in stage.work.man_hours.items()
    }


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
    """Return where a stage's hours lie, day by day: those of a week evenly over its days there."""
    days = [d for d in (*stage.worked, *stage.float_days) if d >= first_day]
    if not stage.stated:
        worked = [day for day in stage.worked if day >= first_day]
        return {
            (day, skill): hours / len(stage.worked)
            for day in worked
            for skill, hours in stage.work.man_hours.items()
        }
    by_week = days_by_week(stage, first_day, with_float=True)
    hours = hours_by_week(stage, first_day)
    return {
        (day, skill): of_week / by_week[monday]
        for day in days
        for (monday, skill), of_week in hours.items()
        if monday == monday_of(day)
    }
