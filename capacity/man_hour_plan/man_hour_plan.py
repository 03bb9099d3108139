"""Put the man-hour plan of a base and a slot plan together.

Sources: 145.A.30(d) and its AMC, paragraphs 2 (absence, from memory), 4 (the plan relates to
the hangar visit plan, from memory), 7 (review every 3 months) and 8 (25 % in a month).
"""

from collections.abc import Iterator
from datetime import date
from math import fsum

from capacity.facts import Base, Function
from capacity.man_hour_plan.month_function import ManHourPlan, MonthFunction
from capacity.man_hour_plan.months import days_of, month_name, months_later, parts_by_month
from capacity.man_hour_plan.needed import Needed, needed_by_month
from capacity.man_hour_plan.own_staff_share import TooFewEmployed, too_few_by_shift
from capacity.man_hour_plan.roster_heads import counts_on
from capacity.man_hour_plan.staff_hours import (
    RosteredHours,
    end_of_months,
    functions_of_skills,
    office_hours,
)
from capacity.plans.plan import Plan
from capacity.plans.worked_days import WorkedDays

MONTHS_TO_REVIEW = 3


def man_hour_plan(base: Base, plan: Plan) -> ManHourPlan:
    """Return man-hours available and needed, month by month and function by function.

    It runs from the first day to the end of the month of the last in day or the last day of
    work. Overtime and contract hours that a plan buys on top of the roster are not in it.
    """
    worked_days = WorkedDays(base)
    until = end_of_months(base, max((p.out_day for p in plan.placements), default=base.first_day))
    needed = needed_by_month(base, plan)
    rostered = RosteredHours(base, until)
    told = _told(base)
    made_on = base.plan_date or base.first_day
    return ManHourPlan(
        name=base.man_hour_plan_name,
        made_on=made_on,
        dated=base.plan_date is not None,
        review_due=months_later(made_on, MONTHS_TO_REVIEW),
        months=tuple(
            _month(base, function, first, end, rostered, needed, worked_days)
            for first, end in parts_by_month(base.first_day, until)
            for function in told
        ),
        untold=tuple(function for function in Function if function not in told),
        too_few_employed=_too_few(base, until, worked_days) if base.own_staff_share_rule else None,
    )


def _told(base: Base) -> tuple[Function, ...]:
    """Return the functions of which the workbook tells anything; ``perform`` always is."""
    named = {Function.PERFORM, *(staff.function for staff in base.functions)}
    return tuple(function for function in Function if function in named)


def _month(
    base: Base,
    function: Function,
    first: date,
    until: date,
    rostered: RosteredHours,
    needed: Needed,
    worked_days: WorkedDays,
) -> MonthFunction:
    crews = rostered.given(function, first, until)
    office = office_hours(base, function, first, until, worked_days)
    return MonthFunction(
        month=month_name(first),
        function=function,
        first=first,
        until=until,
        planned=crews.planned + office.planned,
        available=crews.available + office.available,
        needed=_needed(base, function, month_name(first), needed),
    )


def _needed(base: Base, function: Function, month: str, needed: Needed) -> float:
    """Return ``hours asked of the function's skills + share x hours performed``."""
    share = fsum(staff.needed_share for staff in base.functions if staff.function is function)
    asked = dict.fromkeys(Function, 0.0)
    for skill, serves in functions_of_skills(base).items():
        asked[serves] += needed.get((month, skill), 0.0)
    return asked[function] + share * asked[Function.PERFORM]


def _too_few(base: Base, until: date, worked_days: WorkedDays) -> tuple[TooFewEmployed, ...]:
    days: Iterator[date] = (day for day in days_of(base.first_day, until) if day in worked_days)
    return too_few_by_shift(counts_on(base, days))
