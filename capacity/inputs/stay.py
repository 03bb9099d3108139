"""How long a fixed check stays, in plain dates: only to see what it would collide with."""

import math
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date, timedelta
from graphlib import TopologicalSorter

import holidays

from capacity.facts import Package, Stage
from capacity.inputs.sheets import Settings

ONE_DAY = timedelta(days=1)
TOLERANCE = 1e-9  # man-hours and days, against the dust of divisions

WorksOn = Callable[[date], bool]


def works_on(settings: Settings) -> WorksOn:
    """Return whether the base works on a day: a working weekday that is no holiday."""
    place = settings.holidays
    closed = holidays_of(place) if place else {}
    return lambda day: day.weekday() in settings.working_days and day not in closed


def holidays_of(place: str) -> holidays.HolidayBase:
    """Return the holidays of ``country`` or ``country-subdivision``, named in English."""
    country, _, subdivision = place.partition("-")
    return holidays.country_holidays(country, subdiv=subdivision or None, language="en_US")


def out_day(
    package: Package,
    in_day: date,
    first_day: date,
    works: WorksOn,
    *,
    remaining: float | None = None,
    findings_factor: float = 1.0,
) -> date:
    """Return the day on which an aircraft that came in on ``in_day`` leaves the bay.

    What is left of a check that is already in starts at the first day of the plan at the
    earliest. The stages must not wait for each other in a circle.
    """
    stages, start = package.stages, in_day
    if remaining is not None:
        stages, start = left_of(package, remaining, findings_factor), max(in_day, first_day)
    names = {stage.name for stage in stages}
    until: dict[str, date] = {}
    for stage in in_order(stages):
        begin = max((until[name] for name in stage.after if name in names), default=start)
        until[stage.name] = _end(begin, stage.days, works)
    return max(until.values(), default=start)


def left_of(package: Package, remaining: float, findings_factor: float) -> tuple[Stage, ...]:
    """Return the stages that are left when a share of the man-hours is still to do.

    The work done is taken off the stages in the order of their earliest starts; the stage
    that it ends in keeps the days in proportion.
    """
    asked = {stage.name: _man_hours(stage, findings_factor) for stage in package.stages}
    done = (1 - remaining) * sum(asked.values())
    if done <= TOLERANCE:
        return package.stages
    gone = 0.0
    left: list[Stage] = []
    for stage in _by_earliest_start(package.stages):
        before, gone = gone, gone + asked[stage.name]
        if gone <= done + TOLERANCE:
            continue
        if before < done:
            share = (gone - done) / asked[stage.name]
            left.append(replace(stage, days=max(1, math.ceil(stage.days * share - TOLERANCE))))
        else:
            left.append(stage)
    return tuple(left)


def in_order(stages: Iterable[Stage]) -> list[Stage]:
    """Return the stages so that each comes after those it waits for.

    Raises
    ------
    graphlib.CycleError
        When stages wait for each other in a circle.
    """
    by_name = {stage.name: stage for stage in stages}
    graph = {
        name: [other for other in stage.after if other in by_name]
        for name, stage in by_name.items()
    }
    return [by_name[name] for name in TopologicalSorter(graph).static_order()]


def _end(begin: date, days: int, works: WorksOn) -> date:
    """Return the day after the last of so many worked days, counted from ``begin`` on."""
    day = begin
    while True:
        if works(day):
            days -= 1
        day += ONE_DAY
        if days <= 0:
            return day


def _man_hours(stage: Stage, findings_factor: float) -> float:
    return sum(stage.man_hours.values()) * (1 + stage.findings * findings_factor)


def _by_earliest_start(stages: tuple[Stage, ...]) -> list[Stage]:
    ends: dict[str, int] = {}
    starts: dict[str, int] = {}
    for stage in in_order(stages):
        starts[stage.name] = max((ends[name] for name in stage.after), default=0)
        ends[stage.name] = starts[stage.name] + stage.days
    return sorted(stages, key=lambda stage: starts[stage.name])
