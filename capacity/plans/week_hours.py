"""Man-hours of one week as values: what is there and bought in a skill, who gives to what."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import fsum

from capacity.facts import Crew

TOLERANCE = 1e-6
"""Man-hours that are no more than a rounding."""

AskedInWeek = Mapping[tuple[str, str], float]
"""Man-hours by skill and aircraft type."""

HoursByCrew = Mapping[str, float]
"""Man-hours that each crew has in the week, by its name."""


@dataclass(frozen=True, slots=True)
class SkillWeek:
    """One skill's man-hours in a week.

    ``regular`` is what employed crews give to the skill, with the idle hours of those whose
    own skill it is. ``overtime``, ``contract`` and ``overload`` are bought. ``contract_cap``
    is the contract cap with what contract crews give to the skill and the idle hours of those
    whose own skill it is. ``guaranteed`` is the part of ``contract`` that crews are guaranteed.
    """

    regular: float
    overtime: float
    contract: float
    overload: float
    overtime_cap: float
    contract_cap: float
    guaranteed: float = 0.0


@dataclass(frozen=True, slots=True)
class SharedWeek:
    """The week of each skill; what crews give is ``given[crew, skill]``, contract crews too."""

    skills: Mapping[str, SkillWeek]
    given: Mapping[tuple[str, str], float]


def hours_of(crews: Iterable[Crew], hours: HoursByCrew) -> float:
    """Return what the crews have together."""
    return fsum(hours[crew.name] for crew in crews)


def split_over(
    crews: Iterable[Crew], skill: str, total: float, hours: HoursByCrew
) -> dict[tuple[str, str], float]:
    """Split what crews give to a skill in proportion to the hours that they have."""
    crews = tuple(crews)
    there = hours_of(crews, hours)
    if there <= 0:
        return {}
    return {(crew.name, skill): total * hours[crew.name] / there for crew in crews}


def asked_of(skill: str, asked: AskedInWeek) -> float:
    """Return what all aircraft types ask of a skill."""
    return fsum(wanted for (name, _), wanted in asked.items() if name == skill)
