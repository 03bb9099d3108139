"""Man-hours by ISO week and skill: what crews give, what checks ask, what is bought."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from math import fsum

from capacity.facts import Base, Crew, Skill
from capacity.plans.licences import Licensed, crew_of
from capacity.plans.plan import CrewHours, WeekLoad
from capacity.plans.shared_weeks import HoursSharing, together
from capacity.plans.sharing_program import WeekPart
from capacity.plans.spread import hours_by_day, hours_by_week
from capacity.plans.stays import Stay
from capacity.plans.week_hours import (
    TOLERANCE,
    AskedInWeek,
    HoursByCrew,
    SharedWeek,
    SkillWeek,
    asked_of,
)
from capacity.plans.weeks import ONE_WEEK, monday_of, week_name
from capacity.plans.worked_days import WorkedDays


class GivenHours:
    """What the crews of one base give, week by week."""

    def __init__(self, base: Base, worked_days: WorkedDays) -> None:
        """Sort crews, patterns and absences by name; weeks are summed when asked."""
        self._base = base
        self._worked_days = worked_days
        self._hours_of_shift = {shift.name: shift.hours for shift in base.shifts}
        self._cycles = {pattern.name: pattern.cycle for pattern in base.patterns}
        self.licensed = Licensed(base)
        self._weeks: dict[date, dict[str, float]] = {}

    def in_week(self, monday: date) -> HoursByCrew:
        """Return each crew's hours in the week that starts on ``monday``.

        Over worked days from the first day on. People whose licences have ended are crews of their
        own: parts of their crew, see ``Licensed``.
        """
        if monday not in self._weeks:
            week = (monday + timedelta(days=n) for n in range(7))
            days = [d for d in week if d >= self._base.first_day and d in self._worked_days]
            of_days = [self._on(day) for day in days]
            self._weeks[monday] = {
                name: fsum(of_day.get(name, 0.0) for of_day in of_days)
                for crew in self._base.crews
                for name in self.licensed.parts_of(crew)
            }
        return self._weeks[monday]

    def guaranteed(self, monday: date) -> HoursByCrew:
        """Return the hours of crews in the week of ``monday`` that lie within their guarantee."""
        there, found = self.in_week(monday), dict[str, float]()
        for crew in self._base.crews:
            parts = self.licensed.parts_of(crew)
            in_all = fsum(there[name] for name in parts)
            if crew.guaranteed_hours and in_all > 0.0:
                share = min(1.0, self._sure(crew, monday) / in_all)
                found |= {name: share * there[name] for name in parts}
        return found

    def guaranteed_on(self, day: date) -> HoursByCrew:
        """Return the same of a day: each has the same share of its hours within the guarantee."""
        there, here = self.in_week(monday_of(day)), self.on_day(day)
        return {
            name: here[name] * hours / there[name]
            for name, hours in self.guaranteed(monday_of(day)).items()
            if there[name] > 0.0
        }

    def _sure(self, crew: Crew, monday: date) -> float:
        """Return the hours guaranteed in a week: ``hours a week * days that count / 7``."""
        days = [monday + timedelta(days=number) for number in range(7)]
        return crew.guaranteed_hours * sum(pays(crew, self._base, day) for day in days) / 7

    def on_day(self, day: date) -> HoursByCrew:
        """Return each crew's hours on a day; none on days off and before the first day."""
        gives = day >= self._base.first_day and day in self._worked_days
        of_day = self._on(day) if gives else {}
        return {crew.name: of_day.get(crew.name, 0.0) for crew in self.licensed.crews}

    def of_crew(self, crew: Crew, monday: date) -> float:
        """Return the hours of all people of a crew in a week, whatever they may still do."""
        week = (monday + timedelta(days=n) for n in range(7))
        days = [d for d in week if d >= self._base.first_day and d in self._worked_days]
        return fsum(self._of(crew, day) for day in days)

    def _on(self, day: date) -> HoursByCrew:
        """Return the hours on a worked day of each part of each crew."""
        found: dict[str, float] = {}
        for crew in self._base.crews:
            hours = self._of(crew, day)
            present = self._present(crew, day)
            for name, heads in self.licensed.heads(crew, day, present).items():
                found[name] = hours * heads / present if present > 0.0 else 0.0
        return found

    def _of(self, crew: Crew, day: date) -> float:
        """Return ``max(0, heads - absent) * shift hours * share * productivity``.

        A shift counts wholly on the day on which it starts; ``share`` is that of a shortened day.
        """
        cycle = self._cycles[crew.pattern]
        shift = cycle[(day - crew.starts_cycle_on).days % len(cycle)]
        is_there = (crew.first or day) <= day <= (crew.last or day)
        if shift is None or not is_there:
            return 0.0
        present = self._present(crew, day)
        hours = self._hours_of_shift[shift] * self._worked_days.hours_share(day)
        return present * hours * self._base.productivity

    def _present(self, crew: Crew, day: date) -> float:
        absent = fsum(
            absence.heads
            for absence in self._base.absences
            if absence.crew == crew.name and absence.first <= day <= absence.last
        )
        return max(0.0, crew.heads - absent)


def pays(crew: Crew, base: Base, day: date) -> bool:
    """Return whether a day counts for the guarantee of a crew: it is there, and the plan runs."""
    runs = base.first_day <= day < base.first_day + base.weeks * ONE_WEEK
    return runs and (crew.first or day) <= day <= (crew.last or day)


Asked = Mapping[tuple[date, str], float]
"""Man-hours by the Monday of the week, or the day, and the skill."""


def asked_by(stay: Stay, first_day: date) -> Asked:
    """Add the stages up by week, as they are stated or evenly; before ``first_day`` nothing."""
    return _added(hours_by_week(stage, first_day) for stage in stay.stages)


def asked_by_day(stay: Stay, first_day: date) -> Asked:
    """Add the stages up by day."""
    return _added(hours_by_day(stage, first_day) for stage in stay.stages)


def _added(stages: Iterable[Asked]) -> Asked:
    parts: defaultdict[tuple[date, str], list[float]] = defaultdict(list)
    for asked in stages:
        for when_and_skill, hours in asked.items():
            parts[when_and_skill].append(hours)
    return {when_and_skill: fsum(hours) for when_and_skill, hours in parts.items()}


def week_loads(
    asked: Iterable[Asked],
    types: Iterable[str],
    given: GivenHours,
    sharing: HoursSharing,
    base: Base,
    last_day: date,
    standing: Iterable[WeekLoad] = (),
) -> tuple[tuple[WeekLoad, ...], tuple[CrewHours, ...]]:
    """Set what is asked against what is given, from the first day's week to ``last_day``'s.

    ``types`` are the aircraft types of those who ask. ``standing`` are the weeks of a plan that
    stands: of equally cheap sharings the nearest to it is taken.
    """
    demand = _in_all(asked, types)
    mondays = list(_mondays(base.first_day, last_day))
    wanted = [demand.get(day, {}) for day in mondays]
    near = by_week(standing, base)
    shared = sharing.shared(
        (week, given.in_week(day), near.get(week_name(day)), given.guaranteed(day))
        for week, day in zip(wanted, mondays, strict=True)
    )
    weeks: list[WeekLoad] = []
    crews: list[CrewHours] = []
    for monday, of_week, given_out in zip(mondays, wanted, shared, strict=True):
        name = week_name(monday)
        weeks += [_week_load(name, skill, of_week, given_out) for skill in base.skills]
        crews += _crew_hours(name, given_out, base)
    return tuple(weeks), tuple(crews)


def day_loads(
    asked: Iterable[Asked],
    types: Iterable[str],
    given: GivenHours,
    sharing: HoursSharing,
    base: Base,
    last_day: date,
    standing: Iterable[WeekLoad] = (),
) -> tuple[tuple[WeekLoad, ...], tuple[CrewHours, ...]]:
    """Set what is asked day by day against what is given on these days; stated week by week.

    Hours of crews can be had on the days of their roster only. Overtime, the contract cap and
    overload are the week's. So a skill may buy hours in a week that has regular ones to spare.
    """
    # A plan may state hours below 0; the audit says so, and they are none.
    wanted = {
        day: {key: max(0.0, hours) for key, hours in of_day.items()}
        for day, of_day in _in_all(asked, types).items()
    }
    mondays = list(_mondays(base.first_day, last_day))
    near = by_week(standing, base)
    shared = sharing.over_days(
        (parts_of_week(monday, wanted, given), near.get(week_name(monday))) for monday in mondays
    )
    weeks: list[WeekLoad] = []
    crews: list[CrewHours] = []
    for monday, groups in zip(mondays, shared, strict=True):
        name = week_name(monday)
        whole = together(found for _, found in groups)
        asked_there: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
        for day in (monday + timedelta(days=number) for number in range(7)):
            for key, hours in wanted.get(day, {}).items():
                asked_there[key].append(hours)
        of_week = {key: fsum(hours) for key, hours in asked_there.items()}
        weeks += [_week_load(name, skill, of_week, whole) for skill in base.skills]
        crews += _crew_hours(name, whole, base)
    return tuple(weeks), tuple(crews)


def _in_all(asked: Iterable[Asked], types: Iterable[str]) -> dict[date, AskedInWeek]:
    """Add up what all checks ask, by day (or Monday), skill and aircraft type."""
    found: defaultdict[date, defaultdict[tuple[str, str], list[float]]]
    found = defaultdict(lambda: defaultdict(list))
    for aircraft, of_one_check in zip(types, asked, strict=True):
        for (day, skill), hours in of_one_check.items():
            found[day][skill, aircraft].append(hours)
    return {
        day: {key: fsum(hours) for key, hours in of_day.items()} for day, of_day in found.items()
    }


def parts_of_week(
    monday: date, days: Mapping[date, AskedInWeek], given: GivenHours
) -> list[WeekPart]:
    """Return the days of a week, with what is asked and what crews give on each."""
    week = [monday + timedelta(days=number) for number in range(7)]
    return [
        WeekPart(days.get(day, {}), given.on_day(day), given.guaranteed_on(day)) for day in week
    ]


def by_week(loads: Iterable[WeekLoad], base: Base) -> Mapping[str, Mapping[str, SkillWeek]]:
    """Return the hours of each week and skill of the base; 0 for a skill not told."""
    nothing = {skill.name: SkillWeek(0.0, 0.0, 0.0, 0.0, 0.0, 0.0) for skill in base.skills}
    weeks: dict[str, dict[str, SkillWeek]] = {}
    for load in loads:
        of_week = weeks.setdefault(load.week, dict(nothing))
        of_week[load.skill] = SkillWeek(
            regular=load.regular,
            overtime=load.overtime,
            contract=load.contract,
            overload=load.overload,
            overtime_cap=load.overtime_cap,
            contract_cap=load.contract_cap,
            guaranteed=load.guaranteed,
        )
    return weeks


def _mondays(first_day: date, last_day: date) -> Iterator[date]:
    monday = monday_of(first_day)
    while monday <= last_day:
        yield monday
        monday += ONE_WEEK


def _crew_hours(week: str, shared: SharedWeek, base: Base) -> Iterator[CrewHours]:
    parts: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    for (name, skill_name), part in shared.given.items():
        parts[crew_of(name), skill_name].append(part)
    for crew in base.crews:
        for skill in base.skills:
            hours = fsum(parts.get((crew.name, skill.name), ()))
            if hours > TOLERANCE:
                yield CrewHours(week, crew.name, skill.name, hours)


def _week_load(week: str, skill: Skill, wanted: AskedInWeek, shared: SharedWeek) -> WeekLoad:
    hours = shared.skills[skill.name]
    return WeekLoad(
        week=week,
        skill=skill.name,
        demand=asked_of(skill.name, wanted),
        regular=hours.regular,
        overtime=hours.overtime,
        contract=hours.contract,
        overload=hours.overload,
        overtime_cap=hours.overtime_cap,
        contract_cap=hours.contract_cap,
        guaranteed=hours.guaranteed,
    )
