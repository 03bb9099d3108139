"""When a fixed check does what, in plain dates: only to see what it would collide with."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
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


@dataclass(frozen=True, slots=True)
class LaidStage:
    """A stage under way over ``[first, until)``, days off included."""

    stage: Stage
    first: date
    until: date

    def meets(self, first: date, until: date) -> bool:
        """Whether it is under way on a day of ``[first, until)``."""
        return self.first < until and first < self.until


def lay_out(
    package: Package,
    in_day: date,
    first_day: date,
    works: WorksOn,
    *,
    remaining: float | None = None,
    findings_factor: float = 1.0,
) -> tuple[tuple[LaidStage, ...], date]:
    """Return the stages of an aircraft that came in on ``in_day``, and its out day.

    A stage starts when those it waits for have ended, and past any stage laid out before it
    that it would meet when one of the two has to be alone; they are laid out in the order of
    their earliest starts. What is left of a check that is already in starts at the first day
    of the plan at the earliest. The stages must not wait for each other in a circle.
    """
    stages, start = _by_earliest_start(package.stages), in_day
    if remaining is not None:
        stages, start = left_of(package, remaining, findings_factor), max(in_day, first_day)
    laid: dict[str, LaidStage] = {}
    alone: list[LaidStage] = []
    for stage in stages:
        apart = laid.values() if stage.alone else alone
        first = max((laid[name].until for name in stage.after if name in laid), default=start)
        until = _end(first, stage.days, works)
        while met := next((other for other in apart if other.meets(first, until)), None):
            first = met.until
            until = _end(first, stage.days, works)
        laid[stage.name] = LaidStage(stage, first, until)
        if stage.alone:
            alone.append(laid[stage.name])
    return tuple(laid.values()), max((done.until for done in laid.values()), default=start)


def left_of(package: Package, remaining: float, findings_factor: float) -> tuple[Stage, ...]:
    """Return the stages, by earliest start, when a share of the man-hours is still to do.

    The work done is taken off the stages in the order of their earliest starts; the stage
    that it ends in keeps the days in proportion.
    """
    asked = {stage.name: _man_hours(stage, findings_factor) for stage in package.stages}
    done = (1 - remaining) * sum(asked.values())
    if done <= TOLERANCE:
        return _by_earliest_start(package.stages)
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


def _by_earliest_start(stages: tuple[Stage, ...]) -> tuple[Stage, ...]:
    """Return the stages by their earliest start in worked days, ties in the sheet's order."""
    by_name = {stage.name: stage for stage in stages}
    starts: dict[str, int] = {}
    for name in TopologicalSorter({s.name: s.after for s in stages}).static_order():
        before = [by_name[other] for other in by_name[name].after]
        starts[name] = max((starts[other.name] + other.days for other in before), default=0)
    return tuple(sorted(stages, key=lambda stage: starts[stage.name]))
