"""Overtime of a plan: by week, skill and crew, in money and per head, and what limits it."""

from collections import defaultdict
from dataclasses import dataclass
from math import fsum

from capacity.facts import Base, Crew, Employment
from capacity.plans.audit import audit
from capacity.plans.man_hours import GivenHours, week_name
from capacity.plans.plan import Plan, WeekLoad
from capacity.plans.worked_days import WorkedDays
from capacity.questions.overtime_limits import LimitMet, limits_met, mondays_of

TINY_HOURS = 1e-6


@dataclass(frozen=True, slots=True)
class SkillWeekReview:
    """One skill in one ISO week: man-hours, their money, and overtime per head.

    ``heads`` are those of the employed crews whose own skill it is; ``overtime_per_head`` is
    in attended hours: man-hours / productivity / heads. ``limits`` are the caps that are
    reached.
    """

    week: str
    skill: str
    demand: float
    regular: float
    overtime: float
    contract: float
    overload: float
    overtime_money: float
    contract_money: float
    overload_money: float
    heads: int
    overtime_per_head: float
    limits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CrewOvertime:
    """Overtime of one employed crew in one ISO week, in man-hours and attended a head.

    The plan buys overtime by skill; a crew's part of it is that of its regular man-hours
    among those of all crews of its own skill.
    """

    week: str
    crew: str
    skill: str
    regular: float
    overtime: float
    overtime_per_head: float
    money: float


@dataclass(frozen=True, slots=True)
class OvertimeReview:
    """The overtime that a plan needs, and what it comes to.

    ``least_money`` is the least money for which the man-hours of the plan can be had, slots
    as they are: the hours of the crews shared out week by week as cheaply as can be.
    ``limits`` are the working-time limits that the crews would meet.
    """

    weeks: tuple[SkillWeekReview, ...]
    crews: tuple[CrewOvertime, ...]
    overtime_hours: float
    contract_hours: float
    overload_hours: float
    least_money: float
    limits: tuple[LimitMet, ...]


def review_overtime(plan: Plan, base: Base) -> OvertimeReview:
    """Review the overtime of a plan that stands; figures are those of its audit."""
    found = audit(plan, base)
    given = GivenHours(base, WorkedDays(base))
    weeks = tuple(_skill_week(load, base) for load in found.weeks)
    crews = tuple(_crews(weeks, given, base))
    return OvertimeReview(
        weeks=weeks,
        crews=crews,
        overtime_hours=fsum(load.overtime for load in found.weeks),
        contract_hours=fsum(load.contract for load in found.weeks),
        overload_hours=found.goals.overload_hours,
        least_money=found.overtime_money + found.contract_money + found.overload_money,
        limits=limits_met({(c.week, c.crew): c.overtime_per_head for c in crews}, base),
    )


def own_crews(base: Base, skill: str) -> tuple[Crew, ...]:
    """Return the employed crews whose own skill it is."""
    return tuple(
        crew
        for crew in base.crews
        if crew.skills[0] == skill and crew.employment is Employment.EMPLOYED
    )


def _skill_week(load: WeekLoad, base: Base) -> SkillWeekReview:
    skill = next(s for s in base.skills if s.name == load.skill)
    heads = sum(crew.heads for crew in own_crews(base, load.skill))
    attended = load.overtime / base.productivity / heads if heads else 0.0
    return SkillWeekReview(
        week=load.week,
        skill=load.skill,
        demand=load.demand,
        regular=load.regular,
        overtime=load.overtime,
        contract=load.contract,
        overload=load.overload,
        overtime_money=load.overtime * skill.overtime_cost,
        contract_money=load.contract * skill.contract_cost,
        overload_money=load.overload * base.overload_cost,
        heads=heads,
        overtime_per_head=attended,
        limits=_caps_reached(load),
    )


def _caps_reached(load: WeekLoad) -> tuple[str, ...]:
    """Return the caps that a week has used up, in words."""
    reached = []
    if load.overtime > TINY_HOURS and load.overtime >= load.overtime_cap - TINY_HOURS:
        reached.append(f"overtime cap of {load.overtime_cap:,.1f} h")
    if load.contract > TINY_HOURS and load.contract >= load.contract_cap - TINY_HOURS:
        reached.append(f"contract cap of {load.contract_cap:,.1f} h")
    if load.overload > TINY_HOURS:
        reached.append(f"nobody there for {load.overload:,.1f} h")
    return tuple(reached)


def _crews(weeks: tuple[SkillWeekReview, ...], given: GivenHours, base: Base) -> list[CrewOvertime]:
    """Share the overtime of each skill and week between its own crews by their hours."""
    hours_of: defaultdict[str, dict[str, float]] = defaultdict(dict)
    for monday in mondays_of(base, weeks[-1].week if weeks else None):
        hours_of[week_name(monday)] = dict(given.in_week(monday))
    costs = {skill.name: skill.overtime_cost for skill in base.skills}
    found = []
    for week in weeks:
        if week.overtime <= TINY_HOURS:
            continue
        crews = own_crews(base, week.skill)
        there = fsum(hours_of[week.week].get(crew.name, 0.0) for crew in crews)
        for crew in crews:
            regular = hours_of[week.week].get(crew.name, 0.0)
            part = week.overtime * regular / there if there > 0 else 0.0
            if part > TINY_HOURS:
                found.append(
                    CrewOvertime(
                        week=week.week,
                        crew=crew.name,
                        skill=week.skill,
                        regular=regular,
                        overtime=part,
                        overtime_per_head=part / base.productivity / crew.heads,
                        money=part * costs[week.skill],
                    )
                )
    return found
