"""Every place that an enquiry could have beside a plan in which nobody moves."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Check
from capacity.plans.plan import WeekHours
from capacity.questions.asking.differences import Costs, costs_between
from capacity.questions.asking.places import bays_along
from capacity.questions.asking.standing_plan import StandingPlan
from capacity.questions.enquiries.values import Slot, WeekPrice
from capacity.slots.candidates import Courses, agreed_out_of
from capacity.slots.search.refusals import Refused, explained


class _Course(NamedTuple):
    """What one course of an enquiry comes to beside the plan, whatever bay it is in."""

    costs: Costs
    early_days: int
    late_days: int
    hours: Mapping[tuple[str, str], tuple[WeekHours, ...]]


def columns_beside(standing: StandingPlan, check: int, *, on_time_only: bool) -> NDArray[np.int64]:
    """Return the columns of a check that stand beside the plan.

    With ``on_time_only`` those that are late out are left out.
    """
    program = standing.program
    columns = program.free_columns(check, program.slack(standing.chosen))
    return columns[is_on_time(standing, check, columns)] if on_time_only else columns


def is_on_time(standing: StandingPlan, check: int, columns: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Return which columns of a check are out by ``Agreed out``, if there is one."""
    candidates = standing.slots.candidates[check]
    courses = candidates.courses
    course = candidates.course[standing.program.places_of(check, columns)]
    agreed = agreed_out_of(courses.check, courses.stays.in_day[course], standing.slots.calendar)
    if agreed is None:
        return np.ones(len(columns), dtype=np.bool_)
    on_time: NDArray[np.bool_] = courses.stays.out_day[course] <= agreed
    return on_time


def slots_of(standing: StandingPlan, check: int, *, on_time_only: bool = False) -> tuple[Slot, ...]:
    """Return the slots of an enquiry, one a way through bays, in day and pace, by cost.

    Of several ways to wait for a bay or a shop the cheapest is told. Each way through time is
    audited in the first bays that are free for it; in others it costs the same.
    """
    columns = _one_a_way(
        standing, check, columns_beside(standing, check, on_time_only=on_time_only)
    )
    program = standing.program
    known: dict[int, _Course] = {}
    slots = []
    for column in columns:
        course = int(program.course[column])
        if course not in known:
            known[course] = _audited_course(standing, check, int(column))
        slots.append(_slot(standing, check, int(column), known[course]))
    return tuple(sorted(slots, key=lambda slot: (round(slot.cost, 2), slot.in_day, slot.out_day)))


def money_beside(standing: StandingPlan, columns: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return the money of the plan with each of some columns of one check, shape (columns,)."""
    return standing.program.cost_beside(standing.chosen, columns)


def curve_of(
    standing: StandingPlan, enquiry: Check, slots: tuple[Slot, ...]
) -> tuple[WeekPrice, ...]:
    """Return the cheapest slot of each ISO week of in days in the enquiry's window."""
    first = max(enquiry.earliest_in, standing.base.first_day)
    last = min(enquiry.latest_in, standing.base.last_in_day)
    days = range(max(0, (last - first).days + 1))
    weeks = dict.fromkeys(iso_week(first + timedelta(days=number)) for number in days)
    cheapest: dict[str, Slot] = {}
    for slot in slots:
        cheapest.setdefault(iso_week(slot.in_day), slot)
    return tuple(WeekPrice(week, cheapest.get(week)) for week in weeks)


def iso_week(day: date) -> str:
    """Return the ISO week of a day, such as ``2027-W01``."""
    year, week, _ = day.isocalendar()
    return f"{year}-W{week:02d}"


def in_the_way(standing: StandingPlan, check: int) -> tuple[str, ...]:
    """Return the checks that stand in most candidates of one without a place."""
    refused = Refused(check, None)
    return explained(refused, standing.chosen, standing.program, standing.slots).in_the_way


def _one_a_way(standing: StandingPlan, check: int, columns: NDArray[np.int64]) -> NDArray[np.int64]:
    """Keep the cheapest, then soonest out, of the columns with same bays, in day and pace."""
    candidates = standing.slots.candidates[check]
    stays = candidates.courses.stays
    places = standing.program.places_of(check, columns)
    money = money_beside(standing, columns)
    order = np.lexsort((stays.out_day[candidates.course[places]], np.round(money, 6)))
    best: dict[tuple[object, ...], np.int64] = {}
    for column, place in zip(columns[order], places[order], strict=True):
        course = candidates.course[place]
        way = (tuple(candidates.groups[place]), stays.in_day[course])
        best.setdefault((*way, tuple(stays.days[course])), column)
    return np.sort(np.array(list(best.values()), dtype=np.int64))


def _audited_course(standing: StandingPlan, check: int, column: int) -> _Course:
    name = standing.program.checks[check]
    plan, audit = standing.plan_with(standing.with_place(check, column))
    hours = {
        (placement.check, stage.stage): stage.hours
        for placement in plan.placements
        for stage in placement.stages
        if stage.hours
    }
    account = audit.by_check()[name]
    costs = costs_between(standing.audit, audit, {name})
    return _Course(costs, account.early_days, account.late_days, hours)


def _slot(standing: StandingPlan, check: int, column: int, course: _Course) -> Slot:
    candidates = standing.slots.candidates[check]
    place = standing.program.place_of(check, column)
    stays, number = candidates.courses.stays, int(candidates.course[place])
    placements = standing.placements_of(check, column)
    return Slot(
        check=candidates.courses.check.name,
        bays=bays_along(candidates, place, standing.slots),
        in_day=standing.slots.calendar.date(int(stays.in_day[number])),
        out_day=standing.slots.calendar.date(int(stays.out_day[number])),
        pace=pace_name(candidates.courses, number),
        early_days=course.early_days,
        late_days=course.late_days,
        costs=course.costs,
        placements=placements,
        hours=course.hours,
    )


def pace_name(courses: Courses, course: int) -> str:
    """Return how the stages of a course are run, in a planner's words."""
    work, days = courses.work, courses.stays.days[course]
    other = [n for n, stage in enumerate(work) if days[n] != stage.days]
    flexible = [n for n, stage in enumerate(work) if stage.shortest < stage.longest]
    if not other:
        return "normal"
    if len(flexible) > 1:
        if all(days[n] == work[n].shortest for n in flexible):
            return "shortest"
        if all(days[n] == work[n].longest for n in flexible):
            return "longest"
    return ", ".join(
        f"{work[n].name} in {days[n]} {'day' if days[n] == 1 else 'days'}" for n in other
    )
