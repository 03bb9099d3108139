"""Work packages: stages, the order they stand in, and their man-hours."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of a package.

    ``after`` names the stages that must be finished before it starts. ``days`` are days
    that the base works. ``man_hours`` are routine ones by skill; ``findings`` is the share
    of them that comes on top, ``findings_spread`` the standard deviation of that share
    relative to it. ``max_heads`` are people on the aircraft at once in any shift; ``alone``
    forbids other stages of the check at the same time.

    The hours of each skill are levelled by themselves: on no worked day more than ``daily_peak``
    times the even share, and with ``into_float`` also on worked days after the last normal one,
    while nothing waits for the stage.

    ``extra_hours`` are those that one check has beyond its package, without findings on top; a
    stage that ``is_extra`` is one that only this check has.
    """

    name: str
    work: str
    days: int
    man_hours: Mapping[str, float] = field(default_factory=dict)
    after: tuple[str, ...] = ()
    findings: float = 0.0
    findings_spread: float = 0.0
    shortest_days: int | None = None
    longest_days: int | None = None
    equipment: tuple[str, ...] = ()
    max_heads: int | None = None
    alone: bool = False
    critical: bool = False
    by_night: bool = True
    daily_peak: float = 1.0
    into_float: bool = False
    extra_hours: Mapping[str, float] = field(default_factory=dict)
    is_extra: bool = False

    def asked_hours(self, findings_factor: float) -> Mapping[str, float]:
        """Return man-hours by skill: routine x (1 + findings x findings factor) + extra."""
        growth = 1.0 + self.findings * findings_factor
        asked = {skill: hours * growth for skill, hours in self.man_hours.items()}
        for skill, hours in self.extra_hours.items():
            asked[skill] = asked.get(skill, 0.0) + hours
        return asked


@dataclass(frozen=True, slots=True)
class Package:
    """Stages in the order of the workbook; every ``after`` names one of them.

    ``types`` are the aircraft types that it is for; none named means all. ``material_cost`` is
    what its material costs each time, in no plan's cost.
    """

    name: str
    stages: tuple[Stage, ...]
    types: tuple[str, ...] = ()
    material_cost: float = 0.0

    def is_for(self, aircraft_type: str) -> bool:
        """Return whether the package may be done on an aircraft of a type."""
        return not self.types or aircraft_type in self.types
