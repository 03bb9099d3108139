"""The rules that a crew plan keeps on each day and in each shift."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta
from math import fsum

from capacity.crews.crew_plan import Attendance, CrewPlan
from capacity.crews.crew_settings import CrewSettings
from capacity.facts import Base, Crew, Employment, Shift, Stage
from capacity.plans.plan import Plan
from capacity.plans.worked_days import WorkedDays
from capacity.words import day as as_day

LEAST_ASKED = 0.0051
"""Man-hours in the days staffed below which a skill counts as not asked: crews give hundredths."""

TOLERANCE = 0.011
"""Man-hours, or heads, that are no more than a rounding."""


class DayRules:
    """A crew plan sorted by shift and aircraft, beside the facts."""

    def __init__(
        self,
        made: CrewPlan,
        plan: Plan,
        base: Base,
        settings: CrewSettings,
        asked: Mapping[tuple[str, str, str], float],
    ) -> None:
        """Sort everything by name; ``asked`` are the hours of these days by check, stage, skill."""
        self.asked: defaultdict[tuple[str, str], list[str]] = defaultdict(list)
        for (check, stage_name, skill), hours in asked.items():
            if hours > LEAST_ASKED:
                self.asked[check, stage_name].append(skill)
        self.made, self.base, self.settings = made, base, settings
        self.worked = WorkedDays(base)
        self.cycles = {pattern.name: pattern.cycle for pattern in base.patterns}
        self.licence = {skill.name: skill.licence for skill in base.skills}
        self.type_of = {check.name: check.type for check in base.checks}
        stages = {name: base.stages_of(name) for name in {p.check for p in plan.placements}}
        self.stage_of: dict[tuple[str, str], Stage] = {
            (placement.check, stage.stage): stages[placement.check][stage.stage]
            for placement in plan.placements
            for stage in placement.stages
        }
        hangars = {bay.name: bay.hangar for bay in base.bays}
        self.hangars = [(p.check, p.in_day, p.out_day, hangars[p.bay]) for p in plan.placements]

    def broken(self) -> Iterator[str]:
        """Go through the shifts in the order in which a lead would look at them."""
        for there in self.made.attendance:
            yield from self._on_duty(there)
        yield from self._too_many()
        yield from self._called_too_often()
        yield from self._lapsed()
        yield from self._more_hours_than_people()
        yield from self._too_many_on_a_stage()
        yield from self._not_covered()

    def contract_over_half(self) -> Iterator[str]:
        """In each hangar and shift: contract people <= employed people."""
        heads: defaultdict[tuple[str, date, str], list[float]] = defaultdict(lambda: [0.0, 0.0])
        for there in self.made.attendance:
            hangar = next(
                (
                    h
                    for check, first, until, h in self.hangars
                    if check == there.check and first <= there.day < until
                ),
                "",
            )
            contract = self.base.crew(there.crew).employment is Employment.CONTRACT
            heads[hangar, there.day, there.shift][int(contract)] += there.heads
        for (hangar, day, shift), (employed, hired) in sorted(heads.items()):
            if hired > employed + TOLERANCE:
                person = "person" if hired == 1 else "people"
                yield (
                    f"{hangar}, {as_day(day)}, shift {shift}: {hired:g} contract {person} and "
                    f"{employed:g} own staff: more than half are contract."
                )

    def _pattern(self, crew: Crew, day: date) -> str | None:
        cycle = self.cycles[crew.pattern]
        return cycle[(day - crew.starts_cycle_on).days % len(cycle)]

    def _on_duty(self, there: Attendance) -> Iterator[str]:
        """Hold a crew to its shifts, its skills and its types."""
        crew, who = self.base.crew(there.crew), f"{there.crew} on {as_day(there.day)}"
        usual = self._pattern(crew, there.day)
        if there.day not in self.worked:
            yield f"{who}: the base does not work on that day."
        if usual is None and not (self.settings.call_in and crew.employment is Employment.EMPLOYED):
            yield f"{who}: it has a day off."
        if usual is not None and usual != there.shift:
            yield f"{who}: it works shift {usual}, not {there.shift}."
        if there.skill not in crew.skills:
            yield f"{who}: it has no {there.skill}."
        if crew.types and self.type_of[there.check] not in crew.types:
            yield f"{who}: it is not authorised on {there.check}."
        parts = there.heads * self.settings.parts
        if abs(parts - round(parts)) > TOLERANCE:
            yield f"{who}: {there.heads} people are not whole parts of a shift."
        extra = self._extra(crew, there)
        if there.overtime_hours > extra + TOLERANCE:
            yield f"{who}: {there.overtime_hours:.2f} h of overtime, at most {extra:.2f} h."

    def _extra(self, crew: Crew, there: Attendance) -> float:
        """Return the overtime that the people on an aircraft may work."""
        hours = self._attended(there.shift, there.day)
        if self._pattern(crew, there.day) is None:
            return there.heads * hours * self.base.productivity
        if crew.employment is Employment.CONTRACT:
            return 0.0
        return there.heads * self.settings.overtime_hours * self.base.productivity

    def _attended(self, shift: str, day: date) -> float:
        """Return the hours of a shift on a day, of which a shortened one leaves a share."""
        return self.base.shift(shift).hours * self.worked.hours_share(day)

    def _present(self, crew: Crew, day: date) -> int:
        if not (crew.first or day) <= day <= (crew.last or day):
            return 0
        away = fsum(
            a.heads for a in self.base.absences if a.crew == crew.name and a.first <= day <= a.last
        )
        return max(0, int(crew.heads - away + 1e-9))

    def _too_many(self) -> Iterator[str]:
        """People at work <= people of the crew less those absent."""
        heads: defaultdict[tuple[str, date], float] = defaultdict(float)
        for there in self.made.attendance:
            heads[there.crew, there.day] += there.heads
        for (name, day), at_work in sorted(heads.items()):
            present = self._present(self.base.crew(name), day)
            if at_work > present + TOLERANCE:
                yield f"{name} on {as_day(day)}: {at_work:g} people at work, {present} present."

    def _lapsed(self) -> Iterator[str]:
        """Where people of a crew have lost a skill or a type, others of it are at work.

        People at work where so many or more have lost it <= people of the crew - so many.
        """
        at_work: defaultdict[tuple[str, date], list[tuple[int, float]]] = defaultdict(list)
        for there in self.made.attendance:
            lost = max(
                sum(
                    row.people
                    for row in self.base.licences
                    if (row.crew, row.of) == (there.crew, name) and row.until < there.day
                )
                for name in (there.skill, self.type_of[there.check])
            )
            at_work[there.crew, there.day].append((lost, there.heads))
        for (name, day), works in sorted(at_work.items()):
            present = self._present(self.base.crew(name), day)
            for few in sorted({lost for lost, _ in works} - {0}):
                heads = fsum(number for lost, number in works if lost >= few)
                if heads > max(0, present - few) + TOLERANCE:
                    yield (
                        f"{name} on {as_day(day)}: {heads:g} people at work for which the licences "
                        f"of {few} have ended, {present} present."
                    )

    def _called_too_often(self) -> Iterator[str]:
        """In any seven days, people called in on days off <= people of the crew."""
        called: defaultdict[str, defaultdict[date, float]]
        called = defaultdict(lambda: defaultdict(float))
        for there in self.made.attendance:
            if self._pattern(self.base.crew(there.crew), there.day) is None:
                called[there.crew][there.day] += there.heads
        for name, by_day in called.items():
            for first in by_day:
                week = [first + timedelta(days=n) for n in range(7)]
                most = max(self._present(self.base.crew(name), day) for day in week)
                if sum(by_day.get(day, 0.0) for day in week) > most + TOLERANCE:
                    week_of = f"within a week of {as_day(first)}"
                    yield f"{name}: more people are called in {week_of} than it has."

    def _more_hours_than_people(self) -> Iterator[str]:
        """On an aircraft: hours given <= people x shift hours x productivity + overtime."""
        given: defaultdict[tuple[date, str, str, str, str], float] = defaultdict(float)
        for work in self.made.work:
            given[work.day, work.crew, work.shift, work.check, work.skill] += work.hours
            if (
                self.base.shift(work.shift).night
                and not self.stage_of[work.check, work.stage].by_night
            ):
                yield f"{work.check}: {work.stage} is worked on in night shift {work.shift}."
        able: defaultdict[tuple[date, str, str, str, str], float] = defaultdict(float)
        for there in self.made.attendance:
            key = (there.day, there.crew, there.shift, there.check, there.skill)
            if self._pattern(self.base.crew(there.crew), there.day) is not None:
                hours = self._attended(there.shift, there.day)
                able[key] += there.heads * hours * self.base.productivity
            able[key] += there.overtime_hours
        for key, hours in given.items():
            if hours > able[key] + TOLERANCE:
                who = f"{key[1]} on {as_day(key[0])}"
                yield f"{who}: {hours:.2f} h on {key[3]}, {able[key]:.2f} h available."

    def _too_many_on_a_stage(self) -> Iterator[str]:
        """In each shift: hours given to a stage <= its most heads x hours of a person."""
        given: defaultdict[tuple[str, str, date, str], float] = defaultdict(float)
        for work in self.made.work:
            given[work.check, work.stage, work.day, work.shift] += work.hours
        for (check, stage, day, shift), hours in given.items():
            most = self.stage_of[check, stage].max_heads
            person = self._attended(shift, day) * self.base.productivity
            if most is not None and hours > most * person + TOLERANCE:
                when = f"in shift {shift} on {as_day(day)}"
                yield f"{check}: more than {most} people on {stage} {when}."

    def _not_covered(self) -> Iterator[str]:
        """When a stage is worked, its licences are there; two people when it is critical.

        They are those of the skills in which it has hours in the days staffed.
        """
        there: defaultdict[tuple[str, date], list[Attendance]] = defaultdict(list)
        for attendance in self.made.attendance:
            there[attendance.check, attendance.day].append(attendance)
        worked = {(w.check, w.stage, w.day, w.shift) for w in self.made.work}
        for check, stage, day, shift in sorted(worked):
            facts = self.stage_of[check, stage]
            when = f"in shift {shift} on {as_day(day)}"
            asked = self.asked[check, stage]
            meeting = [
                a
                for a in there[check, day]
                if _meet(self.base.shift(a.shift), self.base.shift(shift), day)
            ]
            for licence in sorted({self.licence[skill] for skill in asked} - {""}):
                if not any(self.licence[a.skill] == licence and a.heads > 0 for a in meeting):
                    yield f"{check}: nobody with licence {licence} for {stage} {when}."
            if facts.critical:
                able = [k for k in asked if self.licence[k]] or asked
                if self._people([a for a in meeting if a.skill in able]) < 2:
                    yield f"{check}: fewer than two people for {stage} {when}."

    def _people(self, there: list[Attendance]) -> int:
        """Return how many different people may share the parts of the shifts of a day."""
        parts: defaultdict[tuple[str, date], int] = defaultdict(int)
        for one in there:
            parts[one.crew, one.day] += round(one.heads * self.settings.parts)
        return sum(min(n, self._present(self.base.crew(c), d)) for (c, d), n in parts.items())


def _meet(one: Shift, other: Shift, day: date) -> bool:
    """Return whether two shifts of a day are the same or overlap in time."""
    first, second = datetime.combine(day, one.start), datetime.combine(day, other.start)
    return one.name == other.name or (
        first < second + timedelta(hours=other.hours)
        and second < first + timedelta(hours=one.hours)
    )
