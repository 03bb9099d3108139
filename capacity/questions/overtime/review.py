"""Overtime of a plan: by week, skill and crew, in money and per head, and what limits it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from math import fsum

from capacity.facts import Base, Crew, Employment
from capacity.plans.audit import audit
from capacity.plans.man_hours import GivenHours
from capacity.plans.plan import Plan, WeekLoad
from capacity.plans.weeks import week_name
from capacity.plans.worked_days import WorkedDays
from capacity.questions.overtime.limits import LimitMet, limits_met, mondays_of

TINY_HOURS = 1e-6


@dataclass(frozen=True, slots=True)
class SkillWeekReview:
    """One skill in one ISO week: man-hours, their money, and overtime per head.

    ``heads`` are those of the employed crews there whose own skill it is; ``overtime_per_head`` is
    in attended hours: man-hours / productivity / heads that are there, which leaves out who
    is away or has the whole week off. ``limits`` are the caps that are reached.
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
    among those of all crews of its own skill. ``overtime_per_head`` is that of a head that is
    there, as in ``SkillWeekReview``.
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


def review_overtime(base: Base, plan: Plan) -> OvertimeReview:
    """Review the overtime of a plan that stands; figures are those of its audit."""
    found = audit(base, plan)
    there = _HeadsThere(base, found.weeks[-1].week if found.weeks else None)
    weeks = tuple(_skill_week(load, there, base) for load in found.weeks)
    crews = tuple(_crews(weeks, there, base))
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


class _HeadsThere:
    """The crews' man-hours week by week, and how many heads they are the hours of."""

    def __init__(self, base: Base, last_week: str | None) -> None:
        worked_days = WorkedDays(base)
        self._mondays = {week_name(monday): monday for monday in mondays_of(base, last_week)}
        self._given = GivenHours(base, worked_days)
        self._of_all = GivenHours(base.replace(absences=()), worked_days)

    def hours(self, crew: Crew, week: str) -> float:
        """Return the man-hours that a crew has in an ISO week."""
        return self._given.of_crew(crew, self._mondays[week])

    def is_there(self, crew: Crew, week: str) -> bool:
        """Return whether a crew belongs to the base on a day of an ISO week."""
        monday = self._mondays[week]
        return any(crew.is_there_on(monday + timedelta(days=n)) for n in range(7))

    def heads(self, crew: Crew, week: str) -> float:
        """Return ``heads x hours given / hours of all heads``; 0 in a week off."""
        of_all = self._of_all.of_crew(crew, self._mondays[week])
        return crew.heads * self.hours(crew, week) / of_all if of_all > 0 else 0.0


def _skill_week(load: WeekLoad, there: _HeadsThere, base: Base) -> SkillWeekReview:
    skill = base.skill(load.skill)
    crews = own_crews(base, load.skill)
    heads_there = fsum(there.heads(crew, load.week) for crew in crews)
    attended = load.overtime / base.productivity / heads_there if heads_there else 0.0
    return SkillWeekReview(
        week=load.week,
        skill=load.skill,
        demand=load.demand,
        regular=load.regular,
        overtime=load.overtime,
        contract=load.contract,
        overload=load.overload,
        overtime_money=load.overtime * skill.overtime_cost,
        contract_money=load.contract_paid * skill.contract_cost,
        overload_money=load.overload * base.overload_cost,
        heads=sum(crew.heads for crew in crews if there.is_there(crew, load.week)),
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
        reached.append(f"overload of {load.overload:,.1f} h")
    return tuple(reached)


def _crews(
    weeks: tuple[SkillWeekReview, ...], there: _HeadsThere, base: Base
) -> Iterator[CrewOvertime]:
    """Share the overtime of each skill and week between its own crews by their hours."""
    costs = {skill.name: skill.overtime_cost for skill in base.skills}
    for week in weeks:
        if week.overtime <= TINY_HOURS:
            continue
        hours = {crew: there.hours(crew, week.week) for crew in own_crews(base, week.skill)}
        together = fsum(hours.values())
        for crew, regular in hours.items():
            part = week.overtime * regular / together if together > 0 else 0.0
            if part > TINY_HOURS:
                yield CrewOvertime(
                    week=week.week,
                    crew=crew.name,
                    skill=week.skill,
                    regular=regular,
                    overtime=part,
                    overtime_per_head=part / base.productivity / there.heads(crew, week.week),
                    money=part * costs[week.skill],
                )
