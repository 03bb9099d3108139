"""Can these checks all be placed at once? Answered by branch-and-cut, with proof or not at all."""

import time
from dataclasses import dataclass, field, replace
from threading import Event

import numpy as np
from numpy.typing import NDArray

from capacity.slots.engines.highs import Listener, branch_and_cut
from capacity.slots.program.choice import Choice
from capacity.slots.program.linear_form import days_form
from capacity.slots.program.program import Program

MOST_SECONDS_A_SOLVE = 20.0


@dataclass(frozen=True)
class Clock:
    """The time until which solving may begin, on the monotonic clock; none once it is stopped."""

    until: float
    stop: Event = field(default_factory=Event)

    @property
    def left(self) -> float:
        """Return the seconds that are left, at least 0."""
        return 0.0 if self.stop.is_set() else max(0.0, self.until - time.monotonic())

    @property
    def listener(self) -> Listener:
        """Return what ends branch-and-cut once the clock is stopped."""
        return Listener(stop=self.stop.is_set)


def clock_of(seconds: float, stop: Event | None = None) -> Clock:
    """Return a clock that runs out in so many seconds, or when ``stop`` is set."""
    return Clock(time.monotonic() + seconds, stop or Event())


@dataclass(frozen=True)
class Answer:
    """Whether the checks can be placed together; None when that was not proven in time.

    ``chosen`` is a choice that places them, ``cost`` what it comes to, and ``is_least``
    whether that is proven to be the least.
    """

    holds: bool | None
    chosen: Choice | None = None
    cost: float = 0.0
    is_least: bool = False


def placed_together(
    program: Program,
    must: NDArray[np.bool_],
    clock: Clock,
    cost: NDArray[np.float64] | None = None,
) -> Answer:
    """Place every check that ``must`` be, (checks,), so that all rows hold.

    Of all such choices one with the least sum of ``cost``, (columns,), where it is given. The
    others are left out: they cannot help anybody.
    Man-hours play no part: those that nobody is there to do can be bought.
    """
    counts = np.diff(program.first_column)
    if (counts[must] == 0).any():
        return Answer(False)
    if not must.any():
        return Answer(True, np.full(len(must), -1, dtype=np.int64), 0.0, True)
    seconds = min(MOST_SECONDS_A_SOLVE, clock.left)
    if seconds <= 0:
        return Answer(None)
    restricted = program.restricted_to(must[program.check_of])
    price = np.zeros(program.size) if cost is None else cost
    form = days_form(replace(restricted.program, days_allowed=None))
    size, upper = restricted.program.size, form.upper.copy()
    upper[size : size + len(must)][must] = 0.0
    costs = np.zeros_like(form.cost)
    costs[:size] = price[restricted.number]
    form = replace(form, cost=costs, upper=upper, offset=0.0)
    solved = branch_and_cut(form, None, seconds, listener=clock.listener)
    if solved.chosen is None:
        return Answer(False if solved.finished else None)
    chosen = restricted.to_whole(solved.chosen)
    if (chosen[must] < 0).any() or not program.holds(chosen):
        return Answer(None)
    return Answer(True, chosen, float(price[chosen[must]].sum()), solved.finished)
