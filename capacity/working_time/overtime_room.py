"""The most overtime that a person of a crew may still work by the rules."""

from collections.abc import Collection, Mapping
from datetime import date, timedelta
from math import inf

from capacity.facts import Base, Crew
from capacity.working_time.duty import ONE_DAY
from capacity.working_time.duty_periods import NO_BREAKS, NO_OVERTIME, duty_periods
from capacity.working_time.limits import RuleSet
from capacity.working_time.overtime_caps import OvertimeCap, overtime_caps


def overtime_room(
    crew: Crew,
    base: Base,
    rule_set: RuleSet,
    day: date,
    *,
    days: int = 1,
    overtime_hours_by_day: Mapping[date, float] = NO_OVERTIME,
    break_hours: Mapping[str, float] = NO_BREAKS,
    first_day: date | None = None,
    until: date | None = None,
) -> float:
    """Return the most overtime hours of one person, all days from ``day`` on added up.

    ``days=1`` gives the room after the shift of that day, 0 on a day without one;
    ``days=7`` that of seven days. ``overtime_hours_by_day`` is what the person has on other
    days, calls on days off included; what it holds of these days is left aside. The other
    arguments are those of ``duty_periods``; the module ``overtime_caps`` says for which rules
    the room is exact.

    Raises
    ------
    ValueError
        When the rules and the plan know nothing of the days.
    """
    end = day + timedelta(days=days)
    elsewhere = {
        other: hours for other, hours in overtime_hours_by_day.items() if not day <= other < end
    }
    roster = duty_periods(crew, base, break_hours=break_hours, first_day=first_day, until=until)
    if days < 1 or not roster.first_day <= day < end <= roster.until:
        raise ValueError(f"{days} days from {day} on are not within the days looked at")
    shifts = {period.day for period in roster.periods}
    duties = duty_periods(
        crew,
        base,
        {other: hours for other, hours in elsewhere.items() if other not in shifts},
        break_hours=break_hours,
        first_day=first_day,
        until=until,
    )
    after_shifts = {other: hours for other, hours in elsewhere.items() if other in shifts}
    return most_overtime(overtime_caps(duties, rule_set), shifts, day, end, after_shifts)


def most_overtime(
    caps: Collection[OvertimeCap],
    days_with_shift: Collection[date],
    first: date,
    until: date,
    elsewhere: Mapping[date, float] = NO_OVERTIME,
) -> float:
    """Return the largest sum of overtime over ``[first, until)`` that all caps allow.

    With ``S(j)`` the overtime of the first j days, each cap is ``S(j) - S(i) <= hours`` and
    each day ``S(j) <= S(j + 1)``, with equality on a day without a shift: difference
    constraints, so the most that ``S`` can rise to is the length of a shortest path (Bellman
    and Ford; e.g. Cormen and others, Introduction to Algorithms, difference constraints, from
    memory). Overtime ``elsewhere`` is taken off the caps that reach out of the days.
    """
    length = (until - first).days
    edges = [(number + 1, number, 0.0) for number in range(length)]
    for number in range(length):
        if first + number * ONE_DAY not in days_with_shift:
            edges.append((number, number + 1, 0.0))
    for cap in caps:
        if cap.first < until and first < cap.until:
            used = sum(
                hours
                for day, hours in elsewhere.items()
                if cap.first <= day < cap.until and not first <= day < until
            )
            start = max(0, (cap.first - first).days)
            stop = min(length, (cap.until - first).days)
            edges.append((start, stop, max(0.0, cap.hours - used)))
    return _shortest(edges, length)


def _shortest(edges: list[tuple[int, int, float]], last: int) -> float:
    """Return the length of the shortest path from place 0 to the last one."""
    distance = [0.0] + [inf] * last
    for _ in range(last):
        for start, stop, hours in edges:
            distance[stop] = min(distance[stop], distance[start] + hours)
    return distance[last]
