"""Labour by week and skill, and what is bought by calendar month."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from math import fsum

from capacity.facts import Base
from capacity.plans.plan import WeekLoad
from capacity.questions.key_figures.values import LabourUse, MonthBought, WeekUse
from capacity.words import week_dates

ALL_SKILLS = "all"
TO_THURSDAY = timedelta(days=3)


def weeks_of(base: Base, loads: Sequence[WeekLoad]) -> tuple[WeekUse, ...]:
    """Return the weeks that lie in the planning period, in turn.

    Not those that were over by the day from which work left counts: what was done in them of checks
    with progress is asked no more, so their demand would be too little.
    """
    by_week: dict[str, list[WeekLoad]] = {}
    for load in loads:
        first, last = week_dates(load.week)
        if first <= base.last_in_day and last >= base.work_left_from:
            by_week.setdefault(load.week, []).append(load)
    return tuple(
        WeekUse(week, use_of(ALL_SKILLS, of_week), tuple(use_of(w.skill, [w]) for w in of_week))
        for week, of_week in by_week.items()
    )


def use_of(skill: str, loads: Iterable[WeekLoad | LabourUse]) -> LabourUse:
    """Return the sums of some man-hours.

    use = demand / regular man-hours, the figure of the sheet Overload weeks: worked or asked over
    what the crews have. Common practice, no source.
    """
    every = list(loads)
    return LabourUse(
        skill,
        demand=fsum(load.demand for load in every),
        regular=fsum(load.regular for load in every),
        overtime=fsum(load.overtime for load in every),
        contract=fsum(load.contract for load in every),
        overload=fsum(load.overload for load in every),
    )


def by_skill(base: Base, weeks: Sequence[WeekUse]) -> tuple[LabourUse, ...]:
    """Return the labour of each skill in all of the weeks."""
    return tuple(
        use_of(
            skill.name, (use for week in weeks for use in week.skills if use.skill == skill.name)
        )
        for skill in base.skills
    )


def months_of(base: Base, loads: Sequence[WeekLoad]) -> tuple[MonthBought, ...]:
    """Return what is bought in each calendar month with a week of the plan.

    A week counts in the month of its Thursday, as ISO 8601 counts it in the year of its Thursday.
    """
    by_month: dict[date, list[WeekLoad]] = {}
    for load in loads:
        thursday = week_dates(load.week)[0] + TO_THURSDAY
        by_month.setdefault(thursday.replace(day=1), []).append(load)
    return tuple(
        MonthBought(
            first,
            overtime=fsum(load.overtime for load in of_month),
            contract=fsum(load.contract for load in of_month),
            overload=fsum(load.overload for load in of_month),
            money=fsum(_money(base, load) for load in of_month),
        )
        for first, of_month in sorted(by_month.items())
    )


def _money(base: Base, load: WeekLoad) -> float:
    skill = base.skill(load.skill)
    return (
        load.overtime * skill.overtime_cost
        + load.contract_paid * skill.contract_cost
        + load.overload * base.overload_cost
    )
