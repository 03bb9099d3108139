"""Who is on which shift in which area, as the roster says."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from math import fsum

from capacity.facts import Base, Crew, Employment, Function
from capacity.man_hour_plan.own_staff_share import HeadCount
from capacity.man_hour_plan.staff_hours import functions_of_skills

HeadsByEmployment = dict[Employment, list[float]]


def counts_on(base: Base, days: Iterable[date]) -> dict[date, tuple[HeadCount, ...]]:
    """Return the people present by area and shift on each of the days.

    Only crews that perform maintenance count, on the shift that their pattern names, also
    where shifts of other names overlap it. A crew without an area stands in the only
    hangar; where there are several its area is blank, and so is not told.
    """
    cycles = {pattern.name: pattern.cycle for pattern in base.patterns}
    functions = functions_of_skills(base)
    crews = [crew for crew in base.crews if functions[crew.skills[0]] is Function.PERFORM]
    hangars = {bay.hangar for bay in base.bays}
    only = hangars.pop() if len(hangars) == 1 else ""
    found = {}
    for day in days:
        there: defaultdict[tuple[str, str], HeadsByEmployment] = defaultdict(dict)
        for crew in crews:
            cycle = cycles[crew.pattern]
            shift = cycle[(day - crew.starts_cycle_on).days % len(cycle)]
            heads = present(crew, base, day)
            if shift is not None and heads > 0:
                there[crew.area or only, shift].setdefault(crew.employment, []).append(heads)
        found[day] = tuple(
            HeadCount(
                area,
                shift,
                employed=fsum(by_employment.get(Employment.EMPLOYED, ())),
                contract=fsum(by_employment.get(Employment.CONTRACT, ())),
            )
            for (area, shift), by_employment in sorted(there.items())
        )
    return found


def present(crew: Crew, base: Base, day: date) -> float:
    """Return ``max(0, heads - absent)`` of a crew on a day on which it is there, else 0."""
    if not crew.is_there_on(day):
        return 0.0
    away = fsum(
        absence.heads
        for absence in base.absences
        if absence.crew == crew.name and absence.first <= day <= absence.last
    )
    return max(0.0, crew.heads - away)
