"""Crews as teams of people who may do the same: licences and authorisations end."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Crew
from capacity.labour.calendar import Calendar

WITHOUT = "\u200b without "
"""Between the names of a crew and of what a team lacks; no name read from a cell holds it."""


def teams_of(base: Base) -> tuple[Crew, ...]:
    """Return the crews, and after each its people as they are once some licences have ended.

    People are counted from 0; the first ``people`` lack a skill or type whose licence has ended,
    so that those who lack one thing lack others too. Teams that can do nothing are left out.
    """
    return tuple(team for crew in base.crews for team, _ in _teams(crew, base))


def team_shares(
    crew: Crew, base: Base, calendar: Calendar, present: NDArray[np.float64]
) -> Iterator[tuple[str, NDArray[np.float64]]]:
    """Yield the heads of each team of a crew by day, shape (days,), of those ``present``.

    On each day the people who lack most are there first.
    """
    lacking = {name: _lacking(crew, name, base, calendar) for name in _names(crew, base)}
    for team, lacks in _teams(crew, base):
        few = np.zeros(len(present))
        many = np.array(present)
        for name, number in lacking.items():
            if name in lacks:
                many = np.minimum(many, number)
            else:
                few = np.maximum(few, number)
        yield team.name, np.maximum(many - np.minimum(few, many), 0.0)


def _names(crew: Crew, base: Base) -> list[str]:
    return list(dict.fromkeys(row.of for row in base.licences if row.crew == crew.name))


def _lacks(crew: Crew, base: Base) -> list[frozenset[str]]:
    """Return all that some people of a crew lack together on some day, nothing first."""
    rows = [row for row in base.licences if row.crew == crew.name]
    found = {frozenset[str]()}
    for end in {row.until for row in rows}:
        number = Counter[str]()
        for row in rows:
            if row.until <= end:
                number[row.of] += row.people
        for person in {0, *number.values()}:
            found.add(frozenset(name for name, people in number.items() if people > person))
    return sorted(found, key=lambda lacks: (len(lacks), sorted(lacks)))


def _lacking(crew: Crew, name: str, base: Base, calendar: Calendar) -> NDArray[np.float64]:
    """Return how many people of a crew lack a skill or type by day, shape (days,)."""
    number = np.zeros(len(calendar.worked))
    for row in base.licences:
        if (row.crew, row.of) == (crew.name, name):
            number[max(0, calendar.number(row.until) + 1) :] += row.people
    return number


def _teams(crew: Crew, base: Base) -> Iterator[tuple[Crew, frozenset[str]]]:
    """Yield the teams of a crew, each with what it lacks; the whole crew lacks nothing."""
    every_type = [aircraft.name for aircraft in base.types]
    for lacks in _lacks(crew, base):
        if not lacks:
            yield crew, lacks
            continue
        skills = tuple(skill for skill in crew.skills if skill not in lacks)
        types = frozenset(crew.types or every_type) - lacks
        if skills and types:
            is_any_type = not crew.types and len(types) == len(every_type)
            name = f"{crew.name}{WITHOUT}{', '.join(sorted(lacks))}"
            yield (
                replace(
                    crew, name=name, skills=skills, types=frozenset() if is_any_type else types
                ),
                lacks,
            )
