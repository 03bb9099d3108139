"""The base's working-time rules in a crew plan: held while it is made, or told afterwards."""

from collections import defaultdict
from datetime import date, timedelta
from math import floor

from capacity.crews.crew_plan import CrewPlan
from capacity.crews.problem import HUNDREDTHS, Room
from capacity.facts import Base, Employment
from capacity.working_time.breaches import breaches, worst_of
from capacity.working_time.duty_periods import duty_periods
from capacity.working_time.overtime_caps import overtime_caps
from capacity.working_time.rule_sets import RULE_SETS
from capacity.working_time.wording import broken_in_words

TINY = 1e-6


def are_held(base: Base) -> bool:
    """Return whether the base holds a set of working-time rules."""
    return base.working_time_rules is not None and base.working_time_mode == "hold"


def rooms_held(base: Base, first_day: date, days: int) -> tuple[Room, ...]:
    """Return what one person of each employed crew may work over, where rules are held.

    A roster that breaks a limit without any overtime leaves no room there, and no more.
    """
    if not are_held(base):
        return ()
    rules = RULE_SETS[str(base.working_time_rules)]
    rooms: dict[tuple[str, range], float] = {}
    for crew in base.crews:
        if crew.employment is Employment.CONTRACT:
            continue
        duties = duty_periods(crew, base, first_day=first_day, until=_end(first_day, days))
        for cap in overtime_caps(duties, rules):
            first = max(0, (cap.first - first_day).days)
            span = range(first, min(days, (cap.until - first_day).days))
            if span:
                least = rooms.get((crew.name, span), cap.hours)
                rooms[crew.name, span] = max(0.0, min(least, cap.hours))
    productive = HUNDREDTHS * base.productivity
    return tuple(
        Room(crew, span, floor(hours * productive + TINY)) for (crew, span), hours in rooms.items()
    )


def working_time_warnings(made: CrewPlan, base: Base) -> tuple[str, ...]:
    """Return the limits that the crews pass with their overtime, a sentence each.

    Overtime of a crew on a day is that of the people on its hardest aircraft: man-hours /
    productivity / people. None where the base has no rules, or does not want to hear.
    """
    if base.working_time_rules is None or base.working_time_mode == "off":
        return ()
    overtime: defaultdict[str, dict[date, float]] = defaultdict(dict)
    for there in made.attendance:
        if there.overtime_hours > 0 and there.heads > 0:
            hours = there.overtime_hours / base.productivity / there.heads
            known = overtime[there.crew].get(there.day, 0.0)
            overtime[there.crew][there.day] = max(known, hours)
    found = breaches(
        base,
        RULE_SETS[base.working_time_rules],
        overtime,
        first_day=made.first_day,
        until=made.until,
    )
    return tuple(broken_in_words(broken) for broken in worst_of(found))


def _end(first_day: date, days: int) -> date:
    return first_day + timedelta(days=days)
