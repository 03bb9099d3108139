"""Man-hours that staff give in a part of a month, with and without those who are away."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil, fsum

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Function
from capacity.labour.available import crew_hours
from capacity.labour.calendar import DAYS_IN_WEEK, Calendar, calendar_of
from capacity.man_hour_plan.months import days_of, next_month
from capacity.plans.worked_days import WorkedDays


@dataclass(frozen=True, slots=True)
class GivenHours:
    """Man-hours ``planned`` as rostered, and ``available`` once those away are taken out."""

    planned: float
    available: float


def functions_of_skills(base: Base) -> dict[str, Function]:
    """Return the function of every skill: ``perform`` where the workbook names no other.

    Nothing is guessed from a skill's name or licence.
    """
    told = {staff.skill: staff.function for staff in base.functions if staff.skill is not None}
    return {skill.name: told.get(skill.name, Function.PERFORM) for skill in base.skills}


class RosteredHours:
    """The hours of crews, each in the function of its own skill, so never counted twice."""

    def __init__(self, base: Base, until: date) -> None:
        """Count each crew's hours day by day, from the first day up to ``until``."""
        weeks = max(base.weeks, ceil((until - base.first_day).days / DAYS_IN_WEEK))
        self._calendar = calendar_of(base.replace(weeks=weeks))
        functions = functions_of_skills(base)
        self._function = {crew.name: functions[crew.skills[0]] for crew in base.crews}
        self._present = crew_hours(base, self._calendar)
        self._rostered = crew_hours(base.replace(absences=()), self._calendar)

    def given(self, function: Function, first: date, until: date) -> GivenHours:
        """Return what the function's crews give over ``[first, until)``."""
        crews = [name for name, served in self._function.items() if served is function]
        return GivenHours(
            planned=self._sum(self._rostered, crews, first, until),
            available=self._sum(self._present, crews, first, until),
        )

    def _sum(
        self,
        hours: dict[str, NDArray[np.float64]],
        crews: Iterable[str],
        first: date,
        until: date,
    ) -> float:
        days = _days(self._calendar, first, until)
        return fsum(hour for crew in crews for hour in hours[crew][days])


def _days(calendar: Calendar, first: date, until: date) -> slice:
    return slice(max(0, calendar.number(first)), max(0, calendar.number(until)))


def office_hours(
    base: Base, function: Function, first: date, until: date, worked_days: WorkedDays
) -> GivenHours:
    """Return what people off the roster give over ``[first, until)``, days of one month.

    hours = heads x hours per head and month x worked days in the part / in the month.
    People away take the same share with them, at the mean hours of the function's heads,
    until nobody is left.
    """
    staff = [row for row in base.functions if row.function is function and row.heads > 0]
    heads = fsum(row.heads for row in staff)
    in_month = fsum(row.heads * row.hours_per_head_and_month for row in staff)
    month = [day for day in days_of(first.replace(day=1), next_month(first)) if day in worked_days]
    if not month or heads <= 0:
        return GivenHours(0.0, 0.0)
    part = [day for day in month if first <= day < until]
    away = fsum(min(heads, _heads_away(base, function, day)) for day in part)
    planned = in_month * len(part) / len(month)
    return GivenHours(planned, max(0.0, planned - in_month / heads * away / len(month)))


def _heads_away(base: Base, function: Function, day: date) -> float:
    return fsum(
        absence.heads
        for absence in base.function_absences
        if absence.function is function and absence.first <= day <= absence.last
    )


def end_of_months(base: Base, last_out: date) -> date:
    """Return the first day after the month of the last in day, or of the last day of work."""
    return next_month(max(base.last_in_day, last_out - timedelta(days=1)))
