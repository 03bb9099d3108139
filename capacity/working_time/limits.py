"""A limit of working time as a value, and a breach of it."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from capacity.working_time.duty import Duties

TINY = 1e-6
"""Hours that are no more than the rounding of times and sums."""


class Known(StrEnum):
    """How well the number of a limit is known."""

    SEEN = "seen"
    FROM_MEMORY = "from memory, not checked against the text"


@dataclass(frozen=True, slots=True)
class Limit:
    """One number that a duty roster is held to; ``rule`` says how.

    ``at_least`` tells a least from a most. ``days`` is the length of the window or reference
    period, where the rule has one. The limit concerns only shifts or runs of nights of more
    than ``over_hours`` hours or, after nights, more than ``over_nights`` nights, and early
    starts before ``before_hour`` o'clock; ``known`` is whether the text with the number was
    read or is remembered.
    """

    id: str
    what: str
    number: float
    unit: str
    source: str
    known: Known
    rule: Callable[[Duties, "Limit"], tuple["Breach", ...]]
    at_least: bool = False
    days: int = 7
    over_hours: float = 0.0
    over_nights: int = 0
    before_hour: float = 0.0


@dataclass(frozen=True, slots=True)
class Breach:
    """A limit that is not kept: ``value`` where ``bound`` is the most or the least.

    Both are in the unit of the limit; ``day`` is that on which the duty starts, or the window
    ends, with which the limit is exceeded.
    """

    limit: Limit
    day: date
    value: float
    bound: float

    @property
    def beyond(self) -> float:
        """By how much the limit is missed, above 0, in its unit."""
        return abs(self.value - self.bound)


@dataclass(frozen=True, slots=True)
class RuleSet:
    """Limits that belong together; ``not_checked`` are its rules that no roster tells of."""

    name: str
    title: str
    limits: tuple[Limit, ...]
    not_checked: tuple[str, ...] = ()


def breach_if_more(limit: Limit, day: date, value: float) -> tuple[Breach, ...]:
    """Return a breach when ``value > number``, none otherwise."""
    return (Breach(limit, day, value, limit.number),) if value > limit.number + TINY else ()


def breach_if_less(limit: Limit, day: date, value: float) -> tuple[Breach, ...]:
    """Return a breach when ``value < number``, none otherwise."""
    return (Breach(limit, day, value, limit.number),) if value < limit.number - TINY else ()
