"""Days as numbers: which are worked, and in which ISO week each of them falls.

Day numbers count from ``Calendar.origin``; intervals are half-open.
"""

import math
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

import holidays
import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Package

DAYS_IN_WEEK = 7


@dataclass(frozen=True)
class Calendar:
    """The days that a plan can touch.

    ``worked`` is a (days,) mask; ``week`` a (days,) index into ``week_names``; ``first`` is
    the number of the first day that can be planned. Days before it give and ask nothing.
    ``hours_share`` (days,) is the share of their shift's hours that crews attend: below 1 on
    shortened days, whether or not they are worked. Without ``leaves_on_days_off`` aircraft move
    and leave on worked days only.
    """

    origin: date
    first: int
    worked: NDArray[np.bool_]
    week: NDArray[np.int64]
    week_names: tuple[str, ...]
    hours_share: NDArray[np.float64]
    leaves_on_days_off: bool = True

    @cached_property
    def worked_days(self) -> NDArray[np.int64]:
        """Return the numbers of the worked days, rising."""
        return np.flatnonzero(self.worked)

    @cached_property
    def worked_before(self) -> NDArray[np.int64]:
        """Return, for each day and one past the end, how many worked days lie before it."""
        return np.concatenate(([0], np.cumsum(self.worked)))

    @cached_property
    def plannable_before(self) -> NDArray[np.int64]:
        """Return ``worked_before`` without the days before ``first``."""
        before: NDArray[np.int64] = self.worked_before - self.worked_before[self.first]
        return np.maximum(before, 0)

    @cached_property
    def week_edges(self) -> NDArray[np.int64]:
        """Return the first day of each week and one past the end, shape (weeks + 1,)."""
        starts = np.flatnonzero(np.diff(self.week, prepend=-1))
        return np.append(starts, len(self.week))

    def number(self, day: date) -> int:
        """Return the number of a date; negative when it lies before the origin."""
        return (day - self.origin).days

    def date(self, number: int) -> date:
        """Return the date of a day number."""
        return self.origin + timedelta(days=int(number))

    def next_worked(self, day: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return the first worked day from ``day`` on, elementwise."""
        worked: NDArray[np.int64] = self.worked_days[self.worked_before[day]]
        return worked

    def next_move(self, day: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return the first day from ``day`` on on which an aircraft may move, elementwise.

        The last one of the calendar for what would lie past its end.
        """
        if self.leaves_on_days_off:
            return day
        place = self.worked_before[np.clip(day, 0, len(self.worked))]
        moves: NDArray[np.int64] = self.worked_days[np.minimum(place, len(self.worked_days) - 1)]
        return np.maximum(moves, day)

    def end_of_work(self, start: NDArray[np.int64], days: int) -> NDArray[np.int64]:
        """Return one past the ``days``-th worked day counted from ``start`` on, elementwise."""
        end: NDArray[np.int64] = self.worked_days[self.worked_before[start] + days - 1] + 1
        return end


def calendar_of(base: Base) -> Calendar:
    """Return the calendar from the first check already in to past the last day out."""
    fixed = [check.fixed_in for check in base.checks if check.fixed_in is not None]
    origin = min([base.first_day, *fixed])
    # What is left of a check, and a stage that waits, may begin behind all in days.
    later = (row.not_before for row in base.ready_dates)
    told = (row.as_of for row in base.progress)
    last = max([base.last_in_day, *fixed, *later, *told])
    days = (last - origin).days + 1 + _longest_tail_days(base, origin)
    dates = np.datetime64(origin, "D") + np.arange(days)
    weekmask = [weekday in base.working_weekdays for weekday in range(DAYS_IN_WEEK)]
    off = np.array(sorted(_holidays(base, origin, days)), dtype="datetime64[D]")
    worked = np.is_busday(dates, weekmask=weekmask, holidays=off)
    hours_share = np.ones(days)
    for own in base.calendar_days:
        here = slice(max(0, (own.first - origin).days), max(0, (own.last - origin).days + 1))
        hours_share[here] = own.hours_share
        if own.worked is not None:
            worked[here] = own.worked
    iso = [(origin + timedelta(days=n)).isocalendar() for n in range(days)]
    names = [f"{day.year}-W{day.week:02d}" for day in iso]
    week_names = tuple(dict.fromkeys(names))
    index = {name: number for number, name in enumerate(week_names)}
    return Calendar(
        origin=origin,
        first=(base.first_day - origin).days,
        worked=worked,
        week=np.array([index[name] for name in names], dtype=np.int64),
        week_names=week_names,
        hours_share=hours_share,
        leaves_on_days_off=base.leaves_on_days_off,
    )


def _longest_tail_days(base: Base, origin: date) -> int:
    """Return calendar days that surely hold the longest package, its waits and a changeover."""
    packages = [*base.packages, *base.packages_with_extra]
    work = max((_worked_days(package, base) for package in packages), default=0)
    places = max((_places_to_wait(package, base) for package in packages), default=0)
    changeover = max((bay.changeover_days for bay in base.bays), default=0)
    # A holiday costs a working day at most; no region has more than 60 of them a year. So does
    # a day on which the base is closed.
    lost = 60 * (1 + work // 300) + _closed_days(base, origin)
    weeks = (work + lost) // max(1, len(base.working_weekdays)) + 2
    return DAYS_IN_WEEK * weeks + changeover + places * base.longest_wait_days


def _closed_days(base: Base, origin: date) -> int:
    """Return the days from ``origin`` on that the base's own calendar closes."""
    closed = (own for own in base.calendar_days if own.worked is False)
    return sum(max(0, (own.last - max(origin, own.first)).days + 1) for own in closed)


def _places_to_wait(package: Package, base: Base) -> int:
    """Return at how many places at the most a check of the package could wait."""
    kinds = {stage.work for stage in package.stages}
    moves = len(package.stages) - 1 if len(kinds) > 1 else 0
    return moves + sum(loop.package == package.name for loop in base.shop_loops)


def _worked_days(package: Package, base: Base) -> int:
    """Return worked days that surely hold the stages and the shop loops one after another."""
    rates = {shop.name: shop.items_per_day for shop in base.shops}
    loops = [loop for loop in base.shop_loops if loop.package == package.name]
    stages = sum(stage.longest_days or stage.days for stage in package.stages)
    if base.progress:
        stages *= 1 + math.ceil(_most_growth(package, base))
    return stages + sum(math.ceil(loop.items / rates[loop.shop]) for loop in loops)


def _most_growth(package: Package, base: Base) -> float:
    """Return by what factor stages of a package may have grown: hours to go / planned ones."""
    of_check = {check.name for check in base.checks if check.package == package.name}
    planned = {
        stage.name: math.fsum((*stage.man_hours.values(), *stage.extra_hours.values()))
        for stage in package.stages
    }
    whole = math.fsum(planned.values())
    return max(
        (
            row.hours_to_go / hours
            for row in base.progress
            if row.check in of_check and row.hours_to_go
            for hours in [planned.get(row.stage, 0.0) if row.stage else whole]
            if hours > 0
        ),
        default=0.0,
    )


def _holidays(base: Base, origin: date, days: int) -> set[date]:
    if base.holidays is None:
        return set()
    country, _, subdivision = base.holidays.partition("-")
    years = range(origin.year, (origin + timedelta(days=days)).year + 1)
    return set(holidays.country_holidays(country, subdiv=subdivision or None, years=years))
