"""The weeks to staff as plain data: tasks that ask hours, crew-shifts that give them.

Days are numbered from the first day of the crew plan; man-hours are whole hundredths.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

HUNDREDTHS = 100
"""Man-hours are counted in hundredths inside the model, so that sums of them are exact."""


@dataclass(frozen=True, slots=True)
class Span:
    """A way to run a task: over ``[first, until)``, with ``worked`` the days it is worked."""

    first: int
    until: int
    worked: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Task:
    """A stage of a check, as far as it falls into the days that are staffed.

    ``spans`` are the ways to run it, the first one as the slot plan has it. ``hundredths`` are
    asked by skill within these days. ``after`` are tasks, by number, that end before it
    starts; ``apart`` those that never run beside it. ``max_heads`` are people on it at once
    in any shift. A critical one is done by one person and inspected by another.
    """

    check: str
    stage: str
    spans: tuple[Span, ...]
    hundredths: Mapping[str, int]
    after: tuple[int, ...] = ()
    apart: tuple[int, ...] = ()
    equipment: frozenset[str] = frozenset()
    max_heads: int | None = None
    critical: bool = False
    by_night: bool = True

    @property
    def moves(self) -> bool:
        """Return whether there is more than one way to run it."""
        return len(self.spans) > 1


@dataclass(frozen=True, slots=True)
class CrewShift:
    """A crew on one day: ``heads`` people, each giving ``hundredths`` in each part of a shift.

    ``extra`` are the hundredths of overtime that a person may add for each part.
    ``called_in`` are people on a day off of their pattern: all they give is overtime. ``lapsed``
    are the people whose licence for a skill, or authorisation for a type, has ended, by its name.
    """

    crew: str
    day: int
    shift: str
    night: bool
    contract: bool
    skills: tuple[str, ...]
    heads: int
    hundredths: int
    extra: int = 0
    called_in: bool = False
    lapsed: Mapping[str, int] = field(default_factory=dict)

    def people_without(self, skill: str, aircraft: str) -> int:
        """Return how many of its people may not work in a skill on a type any more."""
        return max(self.lapsed.get(skill, 0), self.lapsed.get(aircraft, 0))


@dataclass(frozen=True, slots=True)
class Caps:
    """The most that one week may buy of one skill, in hundredths of man-hours.

    ``days`` are the days of the week that are staffed.
    """

    skill: str
    days: range
    overtime: int
    contract: int


@dataclass(frozen=True, slots=True)
class OvertimeLimit:
    """Overtime that one person of a crew may work over some days, in hundredths."""

    crew: str
    days: range
    hundredths: int


@dataclass(frozen=True, slots=True)
class CrewProblem:
    """All that a crew plan depends on.

    ``crews_of`` names the crews that may work on each check; ``hangar_of`` its hangar on
    each day; ``free`` the pieces of each equipment pool that the stages outside ``tasks``
    leave, by day. ``licence_of`` is the licence category of each skill, blank without one;
    ``type_of`` the aircraft type of each check.
    ``overlaps`` names, for each shift, the shifts of the same day that it meets in time.
    ``share_contract`` keeps contract people at half of each hangar and shift at the most.
    ``overtime_limits`` bind each person where the working-time rules are held. A person works
    on one aircraft for a whole number of the ``parts`` of a shift.
    """

    days: int
    tasks: tuple[Task, ...]
    shifts: tuple[CrewShift, ...]
    crews_of: Mapping[str, frozenset[str]]
    caps: tuple[Caps, ...] = ()
    free: Mapping[str, tuple[int, ...]] | None = None
    licence_of: Mapping[str, str] | None = None
    type_of: Mapping[str, str] = field(default_factory=dict)
    overlaps: Mapping[str, frozenset[str]] | None = None
    hangar_of: Mapping[tuple[str, int], str] | None = None
    share_contract: bool = False
    overtime_limits: tuple[OvertimeLimit, ...] = ()
    parts: int = 4

    @property
    def checks(self) -> tuple[str, ...]:
        """Return the checks in work, in order of their first task."""
        return tuple(dict.fromkeys(task.check for task in self.tasks))

    def met_by(self, shift: str) -> frozenset[str]:
        """Return the shifts whose people meet those of a shift: itself and those it overlaps."""
        return (self.overlaps or {}).get(shift, frozenset()) | {shift}
