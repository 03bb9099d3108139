"""Critical work needs two different qualified people on the shift on which it is done.

Source: AMC4 145.A.48(b) (seen): an independent qualified person inspects; 14 CFR 121.371(b)
(seen): nobody inspects what they did themselves. Two people a shift is derived from them.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from math import floor, fsum

from capacity.facts import Base, Crew, Stage
from capacity.plans.plan import Plan
from capacity.plans.worked_days import WorkedDays

LEAST_PEOPLE = 2
TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True)
class CriticalShift:
    """A critical stage on one shift; ``heads`` are the qualified people there by crew.

    ``day`` is the one on which the shift starts. Each crew counts once, whatever the number
    of its skills: one head with two skills is one person.
    """

    check: str
    stage: str
    day: date
    shift: str
    heads: Mapping[str, float]

    @property
    def people(self) -> int:
        """Different whole people; a part of a person cannot be counted on."""
        return people_in(self.heads)


def people_in(heads: Mapping[str, float]) -> int:
    """Return the different whole people in crews of so many heads."""
    return sum(floor(number + TOLERANCE) for number in heads.values())


def has_two_people(heads: Mapping[str, float]) -> bool:
    """Return whether ``people >= 2``: one does the work and another inspects it."""
    return people_in(heads) >= LEAST_PEOPLE


def single_person_critical_work(shifts: Iterable[CriticalShift]) -> tuple[CriticalShift, ...]:
    """Return the shifts on which fewer than two different qualified people are present."""
    return tuple(shift for shift in shifts if not has_two_people(shift.heads))


def stages_without_two_people(shifts: Iterable[CriticalShift]) -> tuple[tuple[str, str], ...]:
    """Return check and stage of critical work that no shift has two qualified people for."""
    best: dict[tuple[str, str], bool] = {}
    for shift in shifts:
        key = shift.check, shift.stage
        best[key] = best.get(key, False) or has_two_people(shift.heads)
    return tuple(key for key, has_two in best.items() if not has_two)


def critical_shifts(plan: Plan, base: Base) -> tuple[CriticalShift, ...]:
    """Return the shifts on which critical stages of a plan may be worked, as the roster says.

    Qualified is who has a skill that the stage asks for and is authorised on the type. Shifts
    without any of them are left out, since nothing can be done there; where that is so on a
    whole day, one nameless shift without heads stands for it.
    """
    stages = {name: base.stages_of(name) for name in {p.check for p in plan.placements}}
    roster = _Roster(base)
    found = []
    for placement in plan.placements:
        check = base.check(placement.check)
        for span in placement.stages:
            stage = stages[check.name][span.stage]
            if not stage.critical:
                continue
            for day in roster.worked(span.first, span.until):
                there = roster.qualified(stage, check.type, day) or {"": {}}
                found += [
                    CriticalShift(check.name, stage.name, day, shift, heads)
                    for shift, heads in there.items()
                ]
    return tuple(found)


class _Roster:
    """Who is there on which shift."""

    def __init__(self, base: Base) -> None:
        self._base = base
        self._cycles = {pattern.name: pattern.cycle for pattern in base.patterns}
        self._nights = {shift.name for shift in base.shifts if shift.night}
        self._worked_days = WorkedDays(base)

    def worked(self, first: date, until: date) -> Iterator[date]:
        """Go through the days of ``[first, until)`` that are worked and in the plan."""
        first = max(first, self._base.first_day)
        for number in range((until - first).days):
            day = first + timedelta(days=number)
            if day in self._worked_days:
                yield day

    def qualified(self, stage: Stage, aircraft: str, day: date) -> dict[str, dict[str, float]]:
        """Return the heads of qualified crews that are there, by shift and crew."""
        there: dict[str, dict[str, float]] = {}
        skills = {skill for skill, hours in stage.asked_hours(1.0).items() if hours > 0}
        for crew in self._base.crews:
            cycle = self._cycles[crew.pattern]
            shift = cycle[(day - crew.starts_cycle_on).days % len(cycle)]
            may_work = stage.by_night or shift not in self._nights
            able = not skills.isdisjoint(crew.skills) and aircraft in (crew.types or {aircraft})
            heads = self._heads(crew, day) - self._lapsed(crew, skills, aircraft, day)
            if shift is not None and may_work and able and heads > 0:
                there.setdefault(shift, {})[crew.name] = heads
        return there

    def _lapsed(self, crew: Crew, skills: set[str], aircraft: str, day: date) -> int:
        """Return how many people of a crew have none of the skills any more, or not the type."""
        lapsed: dict[str, int] = {}
        for row in self._base.licences:
            if row.crew == crew.name and row.until < day:
                lapsed[row.of] = lapsed.get(row.of, 0) + row.people
        own = [lapsed.get(skill, 0) for skill in skills.intersection(crew.skills)]
        return max(min(own, default=0), lapsed.get(aircraft, 0))

    def _heads(self, crew: Crew, day: date) -> float:
        if not crew.is_there_on(day):
            return 0.0
        away = fsum(
            absence.heads
            for absence in self._base.absences
            if absence.crew == crew.name and absence.first <= day <= absence.last
        )
        return max(0.0, crew.heads - away)
