"""What the roster can give by week and skill, and what more hours would cost."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Crew, Employment
from capacity.labour.calendar import Calendar
from capacity.labour.patterns import attended_hours


@dataclass(frozen=True)
class Available:
    """Man-hours and their price, by week of the calendar and skill of the base.

    ``regular``, ``overtime_cap`` and ``contract_cap`` have shape (weeks, skills), in
    man-hours. ``tier_widths`` and ``tier_costs`` have shape (tiers, weeks, skills): hours
    beyond the regular ones, the cheapest tier first; the last one, overload, is endless.
    """

    regular: NDArray[np.float64]
    overtime_cap: NDArray[np.float64]
    contract_cap: NDArray[np.float64]
    tier_widths: NDArray[np.float64]
    tier_costs: NDArray[np.float64]


def crew_hours(base: Base, calendar: Calendar) -> dict[str, NDArray[np.float64]]:
    """Return each crew's booked man-hours by day, shape (days,).

    hours = max(0, heads - absent) x shift hours x productivity on worked days from the
    first plannable day on.
    """
    patterns = {pattern.name: pattern for pattern in base.patterns}
    shifts = {shift.name: shift for shift in base.shifts}
    days = len(calendar.worked)
    gives = calendar.worked & (np.arange(days) >= calendar.first)
    hours = {}
    for crew in base.crews:
        per_head = attended_hours(crew, patterns, shifts, calendar.origin, days)
        hours[crew.name] = _present(crew, base, calendar) * per_head * base.productivity * gives
    return hours


def available_hours(base: Base, calendar: Calendar) -> Available:
    """Return man-hours by week and skill, every crew counted for its own skill.

    Overtime and contract caps are shares of the regular hours of employed crews; the hours
    of contract crews come on top of the contract cap.
    """
    skill_index = {skill.name: number for number, skill in enumerate(base.skills)}
    shape = (len(calendar.week_names), len(base.skills))
    regular, contracted = np.zeros(shape), np.zeros(shape)
    by_day = crew_hours(base, calendar)
    for crew in base.crews:
        by_week = np.bincount(calendar.week, weights=by_day[crew.name], minlength=shape[0])
        target = regular if crew.employment is Employment.EMPLOYED else contracted
        target[:, skill_index[crew.skills[0]]] += by_week
    overtime_cap = regular * [skill.overtime_cap for skill in base.skills]
    contract_cap = regular * [skill.contract_cap for skill in base.skills] + contracted
    widths, costs = _tiers(base, overtime_cap, contract_cap)
    return Available(regular, overtime_cap, contract_cap, widths, costs)


def _present(crew: Crew, base: Base, calendar: Calendar) -> NDArray[np.float64]:
    heads = np.full(len(calendar.worked), float(crew.heads))
    for absence in base.absences:
        if absence.crew == crew.name:
            first = max(0, calendar.number(absence.first))
            heads[first : max(0, calendar.number(absence.last) + 1)] -= absence.heads
    present: NDArray[np.float64] = np.maximum(heads, 0.0)
    return present


def _tiers(
    base: Base, overtime_cap: NDArray[np.float64], contract_cap: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return tier widths and costs, each (3, weeks, skills), the cheapest tier first."""
    widths = np.stack([overtime_cap, contract_cap, np.full_like(overtime_cap, np.inf)])
    per_skill = np.array(
        [[s.overtime_cost, s.contract_cost, base.overload_cost] for s in base.skills]
    ).T.reshape(3, 1, len(base.skills))
    costs = np.broadcast_to(per_skill, widths.shape)
    order = np.argsort(costs, axis=0, kind="stable")
    return np.take_along_axis(widths, order, axis=0), np.take_along_axis(costs, order, axis=0)
