"""Who of a crew may still do what: licences and authorisations that end, day by day."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from itertools import pairwise

from capacity.facts import Base, Crew
from capacity.plans.worked_days import ONE_DAY

LACKS = "\u200b lacks "
"""Between a crew's name and what some of its people lack; no cell can hold it."""


class Licensed:
    """The crews of a base, divided by what their people may do.

    Of one crew, the people whose licences have ended are taken to be the same ones, as far as
    their numbers let them, and to be there before the others. Then those who lack the skill or type
    with the most such people come last, with all that as many lack.
    """

    def __init__(self, base: Base) -> None:
        """Sort the licences by crew."""
        self._types = frozenset(aircraft.name for aircraft in base.types)
        self._rows = {
            crew.name: [row for row in base.licences if row.crew == crew.name]
            for crew in base.crews
        }
        self._crews = {crew.name: crew for crew in base.crews}
        self._parts: dict[str, dict[str, Crew]] = {
            name: {name: crew} for name, crew in self._crews.items()
        }
        for name, rows in self._rows.items():
            for row in rows:
                self.heads(self._crews[name], row.until + ONE_DAY, 0.0)

    @property
    def crews(self) -> tuple[Crew, ...]:
        """Return every part of a crew that there ever is, the crews themselves among them."""
        return tuple(part for parts in self._parts.values() for part in parts.values())

    def parts_of(self, crew: Crew) -> tuple[str, ...]:
        """Return the names of the parts of a crew."""
        return tuple(self._parts[crew.name])

    def heads(self, crew: Crew, day: date, present: float) -> Mapping[str, float]:
        """Divide the people ``present`` on a day, by the names of the parts of their crew."""
        lapsed: dict[str, int] = {}
        for row in self._rows[crew.name]:
            if row.until < day:
                lapsed[row.of] = lapsed.get(row.of, 0) + row.people
        if not lapsed:
            return {crew.name: present}
        found: dict[str, float] = {}
        edges = [0, *sorted(set(lapsed.values()))]
        for first, until in [*pairwise(edges), (edges[-1], None)]:
            lacks = frozenset(name for name, people in lapsed.items() if people > first)
            there = max(0.0, (present if until is None else min(present, until)) - first)
            if (part := self._part(crew, lacks)) is not None:
                found[part] = there
        return found

    def _part(self, crew: Crew, lacks: frozenset[str]) -> str | None:
        """Return the part of a crew whose people lack something; None where nothing is left."""
        if not lacks:
            return crew.name
        name = f"{crew.name}{LACKS}{', '.join(sorted(lacks))}"
        skills = tuple(skill for skill in crew.skills if skill not in lacks)
        types = (crew.types or self._types) - lacks
        if not skills or not types:
            return None
        if name not in self._parts[crew.name]:
            all_types = not crew.types and types == self._types
            self._parts[crew.name][name] = replace(
                crew, name=name, skills=skills, types=frozenset() if all_types else types
            )
        return name


def crew_of(part: str) -> str:
    """Return the name of the crew of a part."""
    return part.partition(LACKS)[0]
