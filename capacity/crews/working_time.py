"""The base's working-time rules in a crew plan: held while it is made, or told afterwards."""

from collections import defaultdict
from datetime import date, timedelta
from math import floor

from capacity.crews.crew_plan import CrewPlan
from capacity.crews.crew_shifts import present
from capacity.crews.problem import HUNDREDTHS, OvertimeLimit
from capacity.facts import Base, Employment
from capacity.working_time.averages import ADDED_UP, hours_added_up, without
from capacity.working_time.breaches import breaches, worst_of
from capacity.working_time.duty_periods import duty_periods
from capacity.working_time.overtime_caps import overtime_caps
from capacity.working_time.rule_sets import RULE_SETS
from capacity.working_time.wording import added_up_in_words, broken_in_words

TINY = 1e-6


def are_held(base: Base) -> bool:
    """Return whether the base holds a set of working-time rules."""
    return base.working_time_rules is not None and base.working_time_mode == "hold"


def limits_held(base: Base, first_day: date, days: int) -> tuple[OvertimeLimit, ...]:
    """Return what one person of each employed crew may work over, where rules are held.

    A roster that breaks a limit without any overtime leaves no room there, and no more. An
    average is held over the days staffed alone, whatever its reference period brings besides.
    """
    if not are_held(base):
        return ()
    rules = RULE_SETS[str(base.working_time_rules)]
    overtime_limits: dict[tuple[str, range], float] = {}
    for crew in base.crews:
        if crew.employment is Employment.CONTRACT:
            continue
        duties = duty_periods(crew, base, first_day=first_day, until=_end(first_day, days))
        for cap in overtime_caps(duties, rules):
            first = max(0, (cap.first - first_day).days)
            span = range(first, min(days, (cap.until - first_day).days))
            if span:
                least = overtime_limits.get((crew.name, span), cap.hours)
                overtime_limits[crew.name, span] = max(0.0, min(least, cap.hours))
    productive = HUNDREDTHS * base.productivity
    return tuple(
        OvertimeLimit(crew, span, floor(hours * productive + TINY))
        for (crew, span), hours in overtime_limits.items()
    )


def working_time_warnings(made: CrewPlan, base: Base) -> tuple[str, ...]:
    """Return the limits that the crews exceed with their overtime, a sentence each.

    What a limit says of one day or night is looked at for the people on the crew's hardest
    aircraft of the day: man-hours / productivity / people. Sums over days are those of a person
    on average, over the rule's whole period; one who is always on the hardest aircraft is told
    as the worst case. None where the base has no rules, or does not want to hear.
    """
    if base.working_time_rules is None or base.working_time_mode == "off":
        return ()
    rules = RULE_SETS[base.working_time_rules]
    hardest = _on_the_hardest_aircraft(made, base)
    found = breaches(
        base, without(rules, ADDED_UP), hardest, first_day=made.first_day, until=made.until
    )
    sums = hours_added_up(
        base,
        rules,
        ADDED_UP,
        _on_average(made, base),
        worst=hardest,
        first_day=made.first_day,
        until=made.until,
    )
    return (
        *(broken_in_words(broken) for broken in worst_of(found)),
        *(
            f"crew {added.crew}, {added_up_in_words(added)}"
            for added in sums
            if added.is_exceeded or added.is_near
        ),
    )


def _on_the_hardest_aircraft(made: CrewPlan, base: Base) -> dict[str, dict[date, float]]:
    """Return attended hours of overtime of a person, by crew and day, where it is most."""
    overtime: defaultdict[str, dict[date, float]] = defaultdict(dict)
    for there in made.attendance:
        if there.overtime_hours > 0 and there.heads > 0:
            hours = there.overtime_hours / base.productivity / there.heads
            known = overtime[there.crew].get(there.day, 0.0)
            overtime[there.crew][there.day] = max(known, hours)
    return overtime


def _on_average(made: CrewPlan, base: Base) -> dict[str, dict[date, float]]:
    """Return attended hours of overtime by crew and day, shared by all who are present."""
    overtime: defaultdict[str, defaultdict[date, float]]
    overtime = defaultdict(lambda: defaultdict(float))
    for there in made.attendance:
        people = present(base.crew(there.crew), base, there.day)
        if there.overtime_hours > 0 and people:
            overtime[there.crew][there.day] += there.overtime_hours / base.productivity / people
    return {crew: dict(by_day) for crew, by_day in overtime.items()}


def _end(first_day: date, days: int) -> date:
    return first_day + timedelta(days=days)
