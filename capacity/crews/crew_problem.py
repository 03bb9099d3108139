"""From a base and its slot plan to the problem of staffing some weeks of it."""

from collections import defaultdict
from dataclasses import replace
from datetime import date, timedelta

from capacity.crews.crew_settings import CrewSettings, OwnStaffShare
from capacity.crews.crew_shifts import crew_shifts, overlapping_shifts
from capacity.crews.problem import HUNDREDTHS, Caps, CrewProblem, Task
from capacity.crews.tasks_of_plan import tasks_of
from capacity.crews.working_time import are_held, limits_held
from capacity.facts import Base, Employment
from capacity.labour.calendar import calendar_of
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.plans.weeks import monday_of, week_name

DAYS_A_WEEK = 7


def crew_problem(plan: Plan, base: Base, settings: CrewSettings) -> CrewProblem:
    """Return the problem of the ``settings.weeks`` weeks from the first day to staff.

    Overtime of a week is capped as in the slot plan. Contract hours beyond the contract
    crews are bought as far as the slot plan buys them.
    """
    first_day = settings.first_day or base.first_day
    days = DAYS_A_WEEK * settings.weeks
    tasks = tasks_of(plan, base, first_day, days)
    types = {check.name: check.type for check in base.checks}
    return CrewProblem(
        days=days,
        tasks=tasks,
        shifts=crew_shifts(base, calendar_of(base), first_day, days, _as_held(settings, base)),
        crews_of={
            check: frozenset(
                crew.name for crew in base.crews if not crew.types or types[check] in crew.types
            )
            for check in dict.fromkeys(task.check for task in tasks)
        },
        caps=_caps(plan, base, first_day, days),
        free=_free_equipment(plan, base, tasks, first_day, days),
        licence_of={skill.name: skill.licence for skill in base.skills},
        type_of=types,
        overlaps=overlapping_shifts(base),
        hangar_of=_hangars(plan, base, first_day, days),
        share_contract=settings.own_staff_share is OwnStaffShare.HOLD,
        overtime_limits=limits_held(base, first_day, days),
        parts=settings.parts,
    )


def _as_held(settings: CrewSettings, base: Base) -> CrewSettings:
    """Call nobody in on a day off where working-time rules are held: they count the day."""
    return replace(settings, call_in=False) if are_held(base) else settings


def _caps(plan: Plan, base: Base, first_day: date, days: int) -> tuple[Caps, ...]:
    """Return each skill's caps by ISO week; a week staffed in part has its share of them."""
    found = audit(base, plan)
    contract_crews = {c.name for c in base.crews if c.employment is Employment.CONTRACT}
    by_crews: defaultdict[tuple[str, str], float] = defaultdict(float)
    for given in found.crew_hours:
        if given.crew in contract_crews:
            by_crews[given.week, given.skill] += given.hours
    caps = []
    loads = {(load.week, load.skill): load for load in found.weeks}
    for staffed in staffed_weeks(first_day, days):
        name = week_name(monday_of(first_day + timedelta(days=staffed.start)))
        share = len(staffed) / DAYS_A_WEEK
        for skill in base.skills:
            load = loads.get((name, skill.name))
            if load is not None:
                bought = max(0.0, load.contract - by_crews[name, skill.name])
                caps.append(
                    Caps(
                        skill=skill.name,
                        days=staffed,
                        overtime=round(HUNDREDTHS * load.overtime_cap * share),
                        contract=round(HUNDREDTHS * bought * share),
                    )
                )
    return tuple(caps)


def staffed_weeks(first_day: date, days: int) -> list[range]:
    """Return the days of each ISO week that is staffed, whole or in part, counted from 0."""
    starts = [0] + [d for d in range(1, days) if (first_day + timedelta(days=d)).weekday() == 0]
    return [range(a, b) for a, b in zip(starts, [*starts[1:], days], strict=True)]


def _free_equipment(
    plan: Plan, base: Base, tasks: tuple[Task, ...], first_day: date, days: int
) -> dict[str, tuple[int, ...]]:
    """Return the pieces of each pool less those out of use and held by stages not here."""
    here = {(task.check, task.stage) for task in tasks}
    stages = {placement.check: base.stages_of(placement.check) for placement in plan.placements}
    free: dict[str, tuple[int, ...]] = {}
    elsewhere = [
        (stage, stages[placement.check][stage.stage].equipment)
        for placement in plan.placements
        for stage in placement.stages
        if (placement.check, stage.stage) not in here
    ]
    for pool in base.equipment:
        pieces = []
        for number in range(days):
            day = first_day + timedelta(days=number)
            out = sum(
                o.number
                for o in base.equipment_outages
                if o.equipment == pool.name and o.first <= day <= o.last
            )
            held = sum(
                pool.name in names and stage.first <= day < stage.until
                for stage, names in elsewhere
            )
            pieces.append(max(0, pool.number - out) - held)
        free[pool.name] = tuple(pieces)
    return free


def _hangars(plan: Plan, base: Base, first_day: date, days: int) -> dict[tuple[str, int], str]:
    hangar = {bay.name: bay.hangar for bay in base.bays}
    return {
        (placement.check, number): hangar[placement.bay]
        for placement in plan.placements
        for number in range(days)
        if placement.in_day <= first_day + timedelta(days=number) < placement.out_day
    }
