"""Bays, the days they are closed, and the aircraft types that must fit them."""

from dataclasses import dataclass
from datetime import date
from typing import Protocol


class Sized(Protocol):
    """Outer dimensions of an aircraft, in metres."""

    @property
    def span_m(self) -> float: ...  # noqa: D102
    @property
    def length_m(self) -> float: ...  # noqa: D102
    @property
    def tail_m(self) -> float: ...  # noqa: D102


class Space(Protocol):
    """The most that a bay takes, in metres."""

    @property
    def max_span_m(self) -> float: ...  # noqa: D102
    @property
    def max_length_m(self) -> float: ...  # noqa: D102
    @property
    def max_tail_m(self) -> float: ...  # noqa: D102


def sizes_exceeded(aircraft: Sized, bay: Space) -> list[str]:
    """Return a reason for each dimension that exceeds the most of a bay."""
    return [
        f"the {name} of {needed:g} m exceeds {most:g} m"
        for name, needed, most in (
            ("span", aircraft.span_m, bay.max_span_m),
            ("length", aircraft.length_m, bay.max_length_m),
            ("tail", aircraft.tail_m, bay.max_tail_m),
        )
        if needed > most
    ]


@dataclass(frozen=True, slots=True)
class AircraftType:
    """Outer dimensions in metres; ``docking`` names the docking it needs, if any."""

    name: str
    span_m: float
    length_m: float
    tail_m: float
    docking: str | None = None


@dataclass(frozen=True, slots=True)
class Bay:
    """A parking position for one aircraft.

    ``work`` names the kinds of work done there; an empty ``docking`` fits every type.
    ``reached_through`` is the bay that must be clear when an aircraft moves in or out;
    ``shares_floor_with`` names bays that cannot be occupied on the same day.
    ``changeover_days`` lie between one aircraft's out day and the next one's in day.
    """

    name: str
    hangar: str
    max_span_m: float
    max_length_m: float
    max_tail_m: float
    work: frozenset[str]
    docking: frozenset[str] = frozenset()
    reached_through: str | None = None
    shares_floor_with: frozenset[str] = frozenset()
    changeover_days: int = 0


@dataclass(frozen=True, slots=True)
class Closure:
    """Days on which a bay can hold no aircraft: ``first`` to ``last``, both included."""

    bay: str
    first: date
    last: date
    reason: str = ""
