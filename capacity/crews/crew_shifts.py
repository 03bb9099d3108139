"""The crews on their shifts, day by day, as the model sees them."""

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from math import floor

from capacity.crews.crew_settings import CrewSettings
from capacity.crews.problem import HUNDREDTHS, CrewShift
from capacity.facts import Base, Crew, Employment
from capacity.labour.calendar import Calendar

TINY = 1e-6


def crew_shifts(
    base: Base, calendar: Calendar, first_day: date, days: int, settings: CrewSettings
) -> tuple[CrewShift, ...]:
    """Return who is there on each worked day from ``first_day`` on.

    People present = whole heads - absent, never below 0; a person gives shift hours x
    productivity / parts in each part of the shift, rounded down to hundredths; on a shortened
    day the share of the shift that is left. On a day off
    the crew may be called in for the shift that it works most.
    """
    shares = [_hours_share(calendar, first_day + timedelta(days=day)) for day in range(days)]
    return tuple(
        there
        for day in range(days)
        if _is_worked(calendar, first_day + timedelta(days=day))
        for crew in base.crews
        for there in _on(crew, base, first_day, day, settings, shares[day])
    )


def _is_worked(calendar: Calendar, day: date) -> bool:
    number = calendar.number(day)
    return calendar.first <= number < len(calendar.worked) and bool(calendar.worked[number])


def _hours_share(calendar: Calendar, day: date) -> float:
    number = calendar.number(day)
    return float(calendar.hours_share[number]) if 0 <= number < len(calendar.worked) else 1.0


def _on(
    crew: Crew,
    base: Base,
    first_day: date,
    day: int,
    settings: CrewSettings,
    hours_share: float,
) -> Iterator[CrewShift]:
    today, cycle = first_day + timedelta(days=day), base.pattern(crew.pattern).cycle
    name = cycle[(today - crew.starts_cycle_on).days % len(cycle)]
    contract = crew.employment is Employment.CONTRACT
    if name is None and (contract or not settings.call_in):
        return
    usual = _usual_shift(cycle)
    worked = name or usual
    shift = base.shift(worked) if worked is not None else None
    heads = present(crew, base, today)
    if shift is None or heads < 1:
        return
    attended = shift.hours * hours_share
    yield CrewShift(
        crew=crew.name,
        day=day,
        shift=shift.name,
        night=shift.night,
        contract=contract,
        skills=crew.skills,
        heads=heads,
        hundredths=floor(HUNDREDTHS * attended * base.productivity / settings.parts + TINY),
        extra=0
        if contract or name is None
        else floor(
            HUNDREDTHS * settings.overtime_hours * base.productivity / settings.parts + TINY
        ),
        called_in=name is None,
        lapsed=_lapsed(crew, base, today),
    )


def present(crew: Crew, base: Base, day: date) -> int:
    """Return the whole heads of a crew that are not absent on a day; none when it is not there."""
    if not crew.is_there_on(day):
        return 0
    away = sum(
        absence.heads
        for absence in base.absences
        if absence.crew == crew.name and absence.first <= day <= absence.last
    )
    return max(0, floor(crew.heads - away + TINY))


def _lapsed(crew: Crew, base: Base, day: date) -> dict[str, int]:
    """Return how many people of a crew have lost each skill or type by a day."""
    lapsed: Counter[str] = Counter()
    for licence in base.licences:
        if licence.crew == crew.name and licence.until < day:
            lapsed[licence.of] += licence.people
    return dict(lapsed)


def _usual_shift(cycle: tuple[str | None, ...]) -> str | None:
    """Return the shift that a pattern works most; the first of them where several do."""
    worked = [name for name in cycle if name is not None]
    return max(worked, key=worked.count) if worked else None


def overlapping_shifts(base: Base) -> dict[str, frozenset[str]]:
    """Return, for each shift, the others of the same day that overlap it in time."""
    spans = {
        shift.name: (start, start + shift.hours)
        for shift in base.shifts
        for start in [shift.start.hour + shift.start.minute / 60]
    }
    return {
        name: frozenset(
            other
            for other, (first, until) in spans.items()
            if other != name and first < end and start < until
        )
        for name, (start, end) in spans.items()
    }
