"""The most man-hours of a week that fit day by day, found by plain augmenting paths."""

from collections import defaultdict, deque
from collections.abc import Hashable, Iterator
from itertools import pairwise
from math import fsum

from capacity.plans.sharing_program import GroupWeek

TINY = 1e-9

Asking = tuple[int, str, frozenset[str]]
"""A day, a skill, and the crews that can do what is asked there."""

Hours = dict[tuple[Asking, Hashable], float]


def least_unfit(week: GroupWeek) -> float:
    """Return the man-hours of a week that nobody can do, whatever it may cost.

    ``asked - maximum flow`` from what is asked on each day in a skill, by aircraft that the same
    crews can do, to the hours of the crews on that day and to the overtime and the contract cap
    of the skill in the whole week. Whoever asks is given what is free; then hours are handed on
    along shortest augmenting paths (Edmonds and Karp 1972) until there is none.
    """
    asked, free = _asked(week), _free(week)
    gives = {asking: list(_sources(asking, free)) for asking in asked}
    given: Hours = {}
    for asking in sorted(asked, key=lambda a: len(gives[a])):
        for source in gives[asking]:
            _give(asking, source, min(asked[asking], free[source]), asked, free, given)
    while path := _path(asked, free, gives, given):
        _hand_on(path, asked, free, given)
    return fsum(asked.values())


def _asked(week: GroupWeek) -> dict[Asking, float]:
    asked: defaultdict[Asking, float] = defaultdict(float)
    skills = {skill.name for skill in week.group.skills}
    for day, part in enumerate(week.parts):
        for (skill, aircraft), hours in part.asked.items():
            if skill in skills and hours > 0:
                able = frozenset(
                    crew.name
                    for crew in week.group.crews
                    if skill in crew.skills and (not crew.types or aircraft in crew.types)
                )
                asked[day, skill, able] += hours
    return dict(asked)


def _free(week: GroupWeek) -> dict[Hashable, float]:
    """Return the hours of each crew on each day, and what can be bought of each skill."""
    free: dict[Hashable, float] = {
        (day, crew.name): part.hours[crew.name]
        for day, part in enumerate(week.parts)
        for crew in week.group.crews
    }
    for skill in week.group.skills:
        own = fsum(
            part.hours[crew.name]
            for part in week.parts
            for crew in week.group.crews
            if crew.skills[0] == skill.name and crew.employment == "employed"
        )
        free["overtime", skill.name] = skill.overtime_cap * own
        free["contract", skill.name] = skill.contract_cap * own
    return free


def _sources(asking: Asking, free: dict[Hashable, float]) -> Iterator[Hashable]:
    day, skill, able = asking
    crews = [(day, name) for name in sorted(able)]
    for source in (*crews, ("overtime", skill), ("contract", skill)):
        if free[source] > TINY:
            yield source


def _give(
    asking: Asking,
    source: Hashable,
    hours: float,
    asked: dict[Asking, float],
    free: dict[Hashable, float],
    given: Hours,
) -> None:
    if hours > TINY:
        asked[asking] -= hours
        free[source] -= hours
        given[asking, source] = given.get((asking, source), 0.0) + hours


def _path(
    asked: dict[Asking, float],
    free: dict[Hashable, float],
    gives: dict[Asking, list[Hashable]],
    given: Hours,
) -> list[tuple[Asking, Hashable]]:
    """Return the shortest way from somebody who lacks hours to free ones; empty if none.

    Each step is a taker and its source, which the taker of the step after it gives back.
    """
    holders: defaultdict[Hashable, list[Asking]] = defaultdict(list)
    for (asking, source), hours in given.items():
        if hours > TINY:
            holders[source].append(asking)
    short = [asking for asking, hours in asked.items() if hours > TINY]
    taker_of: dict[Hashable, Asking] = {}
    gave_back: dict[Asking, Hashable | None] = dict.fromkeys(short)
    waiting = deque(short)
    while waiting:
        asking = waiting.popleft()
        for source in gives[asking]:
            if source in taker_of:
                continue
            taker_of[source] = asking
            if free[source] > TINY:
                return _back(source, taker_of, gave_back)
            for other in holders[source]:
                if other not in gave_back:
                    gave_back[other] = source
                    waiting.append(other)
    return []


def _back(
    last: Hashable, taker_of: dict[Hashable, Asking], gave_back: dict[Asking, Hashable | None]
) -> list[tuple[Asking, Hashable]]:
    steps = []
    source: Hashable | None = last
    while source is not None:
        taker = taker_of[source]
        steps.append((taker, source))
        source = gave_back[taker]
    return steps[::-1]


def _hand_on(
    path: list[tuple[Asking, Hashable]],
    asked: dict[Asking, float],
    free: dict[Hashable, float],
    given: Hours,
) -> None:
    """Move as many hours along a path as its narrowest place lets through."""
    given_back = [(taker, source) for (_, source), (taker, _) in pairwise(path)]
    first, last = path[0][0], path[-1][1]
    hours = min([asked[first], free[last], *(given[pair] for pair in given_back)])
    asked[first] -= hours
    free[last] -= hours
    for pair in given_back:
        given[pair] -= hours
    for pair in path:
        given[pair] = given.get(pair, 0.0) + hours
