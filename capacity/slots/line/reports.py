"""What the coordinator and the two sides of the search say to each other."""

import math
from dataclasses import dataclass
from typing import Self

from capacity.settings import Settings
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program

# What an engine's bound may be off by.
ROUNDING = 1e-6


@dataclass(frozen=True)
class Task:
    """The first word to a side: the program and a choice to begin with.

    ``until`` is the monotonic clock at which a side has said its last word; all processes of a
    machine read the same one, and nobody sets it forward or back. ``number`` tells the sides that
    find plans apart, from 1 on; where there are several each ``shares`` its good plans with the
    others.
    """

    program: Program
    chosen: Choice
    until: float
    settings: Settings
    number: int = 1
    shares: bool = False


@dataclass(frozen=True)
class FoundChoice:
    """A choice in the columns of the whole program, from a side or to it."""

    chosen: Choice
    source: str


@dataclass(frozen=True)
class GoodPlan:
    """A choice that is good, though not the best: for the sides that find plans to begin with.

    From a side it has no ``cost``; the coordinator adds it before it hands the plan on.
    """

    chosen: Choice
    cost: tuple[int, float] | None = None


@dataclass(frozen=True)
class Begun:
    """The side that finds plans is at it: its rounds are compiled, which may have taken long."""


@dataclass(frozen=True)
class DaysBound:
    """A dual bound of goal 1: no choice has fewer days past ``Latest in``."""

    days: int

    @classmethod
    def above(cls, bound: float) -> Self:
        """Return what a bound on days proves: they are whole, so a little above is the next.

        A bound that is not finite proves nothing.
        """
        return cls(math.ceil(bound - ROUNDING) if math.isfinite(bound) else 0)


@dataclass(frozen=True)
class MoneyBound:
    """A dual bound of goal 2: no choice with at most ``days`` past ``Latest in`` costs less."""

    days: int
    money: float


@dataclass(frozen=True)
class Remark:
    """What a person should know of a side's work, and what to do about it."""

    what: str
    remedy: str


@dataclass(frozen=True)
class Failed:
    """A side broke down: ``why`` in a few words, ``details`` as it wrote them at the last."""

    why: str
    details: str = ""


Report = FoundChoice | GoodPlan | Begun | DaysBound | MoneyBound | Remark | Failed
