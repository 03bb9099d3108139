"""Man-hours asked by week and skill in every draw, against the most that can be had."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base
from capacity.labour.calendar import Calendar
from capacity.plans.man_hours import GivenHours, week_loads
from capacity.plans.plan import WeekLoad
from capacity.plans.shared_weeks import HoursSharing
from capacity.plans.week_hours import TOLERANCE
from capacity.plans.worked_days import WorkedDays
from capacity.questions.risk.days import DrawnCheck, LaidCheck
from capacity.questions.risk.hours_done import StageDays, hours_of_skill
from capacity.questions.risk.simulated_plan import PlannedCheck

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def most_to_be_had(load: WeekLoad) -> float:
    """Return ``regular + overtime cap + contract cap`` man-hours of a skill in a week.

    Regular hours are as the audit shared them out: hours of a crew of several skills are not
    shared out anew in each draw. In a week that is overloaded as planned it is what the plan
    could use, ``demand - overload``: hours idle beside an overload serve other types.
    """
    if load.overload > TOLERANCE:
        return load.demand - load.overload
    return load.regular + load.overtime_cap + load.contract_cap


def loads_until(
    audited: Sequence[WeekLoad], base: Base, calendar: Calendar, last_day: int
) -> tuple[WeekLoad, ...]:
    """Return the weeks of the audit, and those behind it to ``last_day``, where nobody asks."""
    known = {load.week for load in audited}
    given, sharing = GivenHours(base, WorkedDays(base)), HoursSharing(base)
    later, _ = week_loads([], [], given, sharing, base, calendar.date(last_day))
    return (*audited, *(load for load in later if load.week not in known))


def hours_by_check(
    planned: PlannedCheck, drawn: DrawnCheck, laid: LaidCheck, calendar: Calendar
) -> Floats:
    """Return the man-hours of a check from the first day of the plan on, shape (draws,)."""
    total = np.zeros(laid.out.shape)
    before = calendar.plannable_before
    for number, stage in enumerate(planned.stages):
        here = before[laid.ends[number]] - before[laid.starts[number]]
        part = here / drawn.days[number]
        total += sum(stage.man_hours.values()) * drawn.growth[number] * part
    return total


def demand_of(
    checks: Sequence[PlannedCheck],
    drawn: Sequence[DrawnCheck],
    laid: Sequence[LaidCheck],
    rows: Mapping[tuple[str, str], int],
    calendar: Calendar,
    draws: int,
) -> Floats:
    """Return man-hours asked, shape (rows, draws); ``rows`` numbers week names and skills.

    A stage's man-hours are spread evenly over its worked days; days before the first day of
    the plan drop out. What is done of a stage lies where it lies.
    """
    demand = np.zeros((len(rows), draws))
    weeks = tuple(dict.fromkeys(week for week, _ in rows))
    for check, of_check, days in zip(checks, drawn, laid, strict=True):
        for number, stage in enumerate(check.stages):
            if stage.left_from is not None:
                ends = days.ends[number]
                laid_days = StageDays(
                    of_check.growth[number], of_check.days[number], days.starts[number], ends, ends
                )
                for skill in stage.man_hours:
                    hours_left = hours_of_skill(stage, skill, laid_days, weeks, calendar)
                    for week, hours_then in zip(
                        weeks, (hours_left.settled + hours_left.even).T, strict=True
                    ):
                        demand[rows[week, skill]] += hours_then
                continue
            a_day = of_check.growth[number] / of_check.days[number]
            for week, worked in _by_week(days.starts[number], days.ends[number], calendar):
                for skill, hours in stage.man_hours.items():
                    demand[rows[week, skill]] += hours * a_day * worked
    return demand


def _by_week(starts: Ints, ends: Ints, calendar: Calendar) -> list[tuple[str, Ints]]:
    """Return the worked days from the first day on that fall into each week, (draws,)."""
    edges, before = calendar.week_edges, calendar.plannable_before
    first = max(int(starts.min()), calendar.first)
    found = []
    for week in range(int(calendar.week[min(first, len(calendar.week) - 1)]), len(edges) - 1):
        if edges[week] >= ends.max():
            break
        until, since = np.minimum(ends, edges[week + 1]), np.maximum(starts, edges[week])
        found.append((calendar.week_names[week], np.maximum(before[until] - before[since], 0)))
    return found
