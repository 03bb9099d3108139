"""The kinds of man-hours that have to be told apart: a skill, on aircraft of some types."""

from dataclasses import dataclass

from capacity.facts import Base, Crew
from capacity.labour.teams import teams_of


@dataclass(frozen=True, slots=True)
class Kind:
    """Hours of one skill on aircraft of any of the ``types``.

    The types of one kind are all worked by the same crews, so nothing is lost by adding
    their hours up.
    """

    skill: str
    types: frozenset[str]

    def is_given_by(self, crew: Crew) -> bool:
        """Return whether the crew's people can do such work."""
        authorised = not crew.types or self.types <= crew.types
        return self.skill in crew.skills and authorised


def kinds_of(base: Base) -> tuple[Kind, ...]:
    """Return the kinds in the order of the skills, then of each kind's first type.

    A base without type authorisations has one kind a skill.
    """
    kinds, teams = [], teams_of(base)
    for skill in base.skills:
        alike: dict[tuple[bool, ...], set[str]] = {}
        for aircraft in base.types:
            crews = tuple(
                not crew.types or aircraft.name in crew.types
                for crew in teams
                if skill.name in crew.skills
            )
            alike.setdefault(crews, set()).add(aircraft.name)
        kinds += [Kind(skill.name, frozenset(types)) for types in alike.values() or [set()]]
    return tuple(kinds)
