"""On which days of its weeks a levelled stage is worked: where the people are."""

from collections.abc import Mapping
from datetime import date
from math import fsum

from capacity.facts import Base
from capacity.plans.man_hours import GivenHours
from capacity.plans.peaks import most_of_a_day
from capacity.plans.spread import days_of_week, hours_by_day, hours_by_week
from capacity.plans.stays import LaidStage

TINY = 1e-9


def hours_by_roster(
    stage: LaidStage, base: Base, given: GivenHours
) -> Mapping[tuple[date, str], float]:
    """Return a stage's hours by day and skill.

    Hours stated for a week go to its days in proportion to the hours that crews have there whose
    own skill it is, as far as the stage's peak lets them; where hours lie evenly they stay so.
    """
    if not stage.stated:
        return hours_by_day(stage, base.first_day)
    found: dict[tuple[date, str], float] = {}
    for (monday, skill), hours in hours_by_week(stage, base.first_day).items():
        before, days = days_of_week(stage, base.first_day, monday)
        done = min(hours, stage.done.get((monday, skill), 0.0)) if before else 0.0
        for day in before:
            found[day, skill] = done / len(before)
        there = {day: _own_hours(skill, day, base, given) for day in days}
        most = most_of_a_day(stage, skill, base)
        for day, of_day in _shared(hours - done, there, most).items():
            found[day, skill] = of_day
    return found


def _own_hours(skill: str, day: date, base: Base, given: GivenHours) -> float:
    by_crew = given.on_day(day)
    return fsum(by_crew[crew.name] for crew in given.licensed.crews if crew.skills[0] == skill)


def _shared(hours: float, there: Mapping[date, float], most: float) -> dict[date, float]:
    """Share hours over days as people are there, at ``most`` on each; evenly where nobody is."""
    shared = dict.fromkeys(there, 0.0)
    left, open_days = hours, list(there)
    while left > TINY and open_days:
        weight = fsum(there[day] for day in open_days)
        weights = {d: there[d] / weight if weight > 0 else 1 / len(open_days) for d in open_days}
        taken = {d: min(left * weights[d], most - shared[d]) for d in open_days}
        for day, more in taken.items():
            shared[day] += more
        left -= fsum(taken.values())
        # Days without people take what the others have no room for.
        open_days = [d for d in open_days if most - shared[d] > TINY]
        if fsum(taken.values()) <= TINY:
            break
    return shared
