"""Hours of contract crews that are paid whether or not they are used."""

from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Crew
from capacity.labour.calendar import DAYS_IN_WEEK, Calendar

ONE_DAY = timedelta(days=1)


def guaranteed_by_week(crew: Crew, base: Base, calendar: Calendar) -> NDArray[np.float64]:
    """Return the man-hours that a crew is guaranteed in each week, shape (weeks,).

    guaranteed hours x days of the week on which the crew is there and the plan's weeks run / 7.
    """
    first, until = _days(crew, base)
    days = np.zeros(len(calendar.worked))
    days[max(0, calendar.number(first)) : max(0, calendar.number(until))] = 1.0
    by_week = np.bincount(calendar.week, weights=days, minlength=len(calendar.week_names))
    return np.asarray(by_week * (crew.guaranteed_hours / DAYS_IN_WEEK), dtype=np.float64)


def guaranteed_money(base: Base) -> float:
    """Return what the guarantees of all crews cost over the plan's weeks, whatever is used.

    guaranteed hours x days there / 7 x contract cost of the crew's own skill.
    """
    money = 0.0
    for crew in (crew for crew in base.crews if crew.guaranteed_hours):
        first, until = _days(crew, base)
        weeks = max(0, (until - first).days) / DAYS_IN_WEEK
        money += crew.guaranteed_hours * weeks * base.skill(crew.skills[0]).contract_cost
    return money


def _days(crew: Crew, base: Base) -> tuple[date, date]:
    """Return the days ``[first, until)`` of the plan's weeks on which the crew is there."""
    first = max(base.first_day, crew.first or base.first_day)
    last = min(base.last_in_day, crew.last or base.last_in_day)
    return first, last + ONE_DAY
