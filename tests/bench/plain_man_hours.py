"""Man-hours of the plainest bases by week and skill, from the facts alone."""

from collections import defaultdict
from datetime import date, timedelta

from capacity.facts import Base, Crew
from tests.bench.plain_stays import PlainStay

# The Monday of the week, and the skill.
WeekAndSkill = tuple[date, str]


def asked_hours(facts: PlainStay, in_day: int, first_day: date) -> dict[WeekAndSkill, float]:
    """Spread each stage's routine hours and findings evenly over its days."""
    asked: defaultdict[WeekAndSkill, float] = defaultdict(float)
    for stage, offset in zip(facts.stages, facts.offsets, strict=False):
        factor = 1 + stage.findings * facts.check.findings_factor
        for number in range(stage.days):
            day = first_day + timedelta(days=in_day + offset + number)
            monday = day - timedelta(days=day.weekday())
            for skill, hours in stage.man_hours.items():
                asked[monday, skill] += hours * factor / stage.days
    return asked


def given_hours(base: Base, monday: date, skill: str) -> float:
    """Add up what the skill's crews give in a week, from the first day on."""
    days = [monday + timedelta(days=n) for n in range(7)]
    return sum(
        _on(crew, day, base)
        for crew in base.crews
        for day in days
        if crew.skills == (skill,) and day >= base.first_day
    )


def _on(crew: Crew, day: date, base: Base) -> float:
    """max(0, heads - absent) x shift hours x productivity."""
    cycle = next(p.cycle for p in base.patterns if p.name == crew.pattern)
    shift = cycle[(day - crew.starts_cycle_on).days % len(cycle)]
    if shift is None:
        return 0.0
    hours = next(s.hours for s in base.shifts if s.name == shift)
    away = sum(a.heads for a in base.absences if a.crew == crew.name and a.first <= day <= a.last)
    return max(0.0, crew.heads - away) * hours * base.productivity
