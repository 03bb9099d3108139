"""Man-hours by ISO week and skill: what crews give, what checks ask, what is bought."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from math import fsum

from capacity.facts import Base, Crew, Employment, Skill
from capacity.plans.plan import WeekLoad
from capacity.plans.stays import LaidStage, Stay
from capacity.plans.worked_days import WorkedDays

ONE_WEEK = timedelta(days=7)


def monday_of(day: date) -> date:
    """Return the Monday of the ISO week in which the day falls."""
    return day - timedelta(days=day.weekday())


def week_name(monday: date) -> str:
    """Name the ISO week: ``2026-W53`` is followed by ``2027-W01``."""
    year, week, _ = monday.isocalendar()
    return f"{year}-W{week:02}"


@dataclass(frozen=True, slots=True)
class Given:
    """Man-hours of one skill in one week: of ``employed`` and of ``contract`` crews."""

    employed: float
    contract: float


class GivenHours:
    """What the crews of one base give, week by week."""

    def __init__(self, base: Base, worked_days: WorkedDays) -> None:
        """Sort crews, patterns and absences by name; weeks are summed when asked."""
        self._base = base
        self._worked_days = worked_days
        self._hours_of_shift = {shift.name: shift.hours for shift in base.shifts}
        self._cycles = {pattern.name: pattern.cycle for pattern in base.patterns}
        self._weeks: dict[date, dict[str, Given]] = {}

    def in_week(self, monday: date) -> Mapping[str, Given]:
        """Return what each skill's own crews give in the week that starts on ``monday``."""
        if monday not in self._weeks:
            self._weeks[monday] = self._sum_week(monday)
        return self._weeks[monday]

    def _sum_week(self, monday: date) -> dict[str, Given]:
        """Add up the crews by their own skill, over worked days from the first day on."""
        week = (monday + timedelta(days=n) for n in range(7))
        days = [d for d in week if d >= self._base.first_day and d in self._worked_days]
        hours: defaultdict[tuple[str, Employment], list[float]] = defaultdict(list)
        for crew in self._base.crews:
            hours[crew.skills[0], crew.employment].extend(self._on(crew, d) for d in days)
        return {
            skill.name: Given(
                employed=fsum(hours[skill.name, Employment.EMPLOYED]),
                contract=fsum(hours[skill.name, Employment.CONTRACT]),
            )
            for skill in self._base.skills
        }

    def _on(self, crew: Crew, day: date) -> float:
        """Return ``max(0, heads - absent) * shift hours * productivity``.

        A shift counts wholly on the day on which it starts.
        """
        cycle = self._cycles[crew.pattern]
        shift = cycle[(day - crew.starts_cycle_on).days % len(cycle)]
        if shift is None:
            return 0.0
        absent = fsum(
            absence.heads
            for absence in self._base.absences
            if absence.crew == crew.name and absence.first <= day <= absence.last
        )
        present = max(0.0, crew.heads - absent)
        return present * self._hours_of_shift[shift] * self._base.productivity


Asked = Mapping[tuple[date, str], float]
"""Man-hours by the Monday of the week and the skill."""


def asked_by(stay: Stay, first_day: date) -> Asked:
    """Spread each stage evenly over its worked days; days before ``first_day`` drop out."""
    parts: defaultdict[tuple[date, str], list[float]] = defaultdict(list)
    for stage in stay.stages:
        for monday, days in _days_by_week(stage, first_day).items():
            for skill, hours in stage.work.man_hours.items():
                parts[monday, skill].append(hours * days / len(stage.worked))
    return {week_and_skill: fsum(hours) for week_and_skill, hours in parts.items()}


def _days_by_week(stage: LaidStage, first_day: date) -> Mapping[date, int]:
    days: defaultdict[date, int] = defaultdict(int)
    for day in stage.worked:
        if day >= first_day:
            days[monday_of(day)] += 1
    return days


def week_loads(
    asked: Iterable[Asked], given: GivenHours, base: Base, last_out: date
) -> Iterator[WeekLoad]:
    """Set what is asked against what is given, from the first day's week to the last out's."""
    demand: defaultdict[tuple[date, str], list[float]] = defaultdict(list)
    for of_one_check in asked:
        for week_and_skill, hours in of_one_check.items():
            demand[week_and_skill].append(hours)
    monday = monday_of(base.first_day)
    while monday <= last_out:
        week, crews = week_name(monday), given.in_week(monday)
        for skill in base.skills:
            total = fsum(demand.get((monday, skill.name), ()))
            yield _week_load(week, skill, total, crews[skill.name])
        monday += ONE_WEEK


def _week_load(week: str, skill: Skill, demand: float, given: Given) -> WeekLoad:
    """Fill regular hours first, then overtime and contract, the cheaper first.

    What neither holds is overload, the last resort whatever it costs.
    """
    caps = {
        "overtime": skill.overtime_cap * given.employed,
        "contract": skill.contract_cap * given.employed + given.contract,
    }
    costs = {"overtime": skill.overtime_cost, "contract": skill.contract_cost}
    short = max(0.0, demand - given.employed)
    bought: dict[str, float] = {}
    for tier in sorted(caps, key=costs.__getitem__):
        bought[tier] = min(short, caps[tier])
        short -= bought[tier]
    return WeekLoad(
        week=week,
        skill=skill.name,
        demand=demand,
        regular=given.employed,
        overtime=bought["overtime"],
        contract=bought["contract"],
        overload=short,
        overtime_cap=caps["overtime"],
        contract_cap=caps["contract"],
    )
