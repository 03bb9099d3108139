"""The last descent where man-hours are levelled: single checks, and two at a time, solved exactly.

What a move costs depends on how everybody's hours are levelled then, so nothing can be told from
tables; but a program of one check or two is small, and branch-and-cut is soon done with it.
"""

import time
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from capacity.slots.engines.near import solve_near
from capacity.slots.line.mailbox import is_better
from capacity.slots.program.choice import Choice
from capacity.slots.program.day_strands import DaySet
from capacity.slots.program.neighbourhood import around
from capacity.slots.program.program import Program
from capacity.slots.program.relatedness import LEAST, relatedness

# A program of one check or two is mostly solved in hundredths of a second.
SECONDS_EACH = 2.0


class LevelledDescent:
    """A choice that is bettered by single moves and moves of two until none saves anything.

    ``chosen`` is the best so far at any time. ``is_done`` says whether everything was looked at.
    """

    def __init__(self, program: Program, chosen: Choice) -> None:
        """Begin with a choice that keeps all rows."""
        self.program, self.chosen, self.is_done = program, chosen, False
        self._known: dict[DaySet, None] = {}
        self._related: np.ndarray[tuple[int, ...], np.dtype[np.float64]] | None = None

    def begin_again(self, chosen: Choice) -> None:
        """Begin with another choice that keeps all rows."""
        self.chosen, self.is_done = chosen, False

    def run(self, until: float) -> None:
        """Descend until nothing saves anything, or the clock (monotonic) says ``until``."""
        self.is_done = not self.program.size
        while not self.is_done:
            bettered = False
            for free in self._free():
                if time.monotonic() > until:
                    return
                bettered |= self._move(np.array(free), until)
                if bettered and len(free) > 1:
                    break  # single checks may save something again
            self.is_done = not bettered

    def _free(self) -> Iterator[tuple[int, ...]]:
        """Yield single checks, then the pairs that could be in each other's way, nearest first."""
        checks = len(self.program.checks)
        yield from ((check,) for check in range(checks))
        if self._related is None:
            self._related = relatedness(self.program)
        one, other = np.nonzero(np.triu(self._related, 1) > LEAST)
        order = np.argsort(-self._related[one, other], kind="stable")
        yield from ((int(one[n]), int(other[n])) for n in order)

    def _move(self, free: Choice, until: float) -> bool:
        """Let some checks move where that saves most; return whether it saves anything."""
        near = around(self.program, self.chosen, free)
        start = near.from_whole(self.chosen[free])
        if start is None:
            return False
        days = near.program.days_past(start)
        # Fewer days past come before any money.
        fewer = [days - 1] if days > near.program.settled_past else []
        for allowed in (*fewer, days):
            seconds = min(SECONDS_EACH, max(0.1, until - time.monotonic()))
            found = solve_near(
                replace(near.program, days_allowed=allowed), start, seconds, 0, self._known
            )
            if found is None:
                continue
            better = self.chosen.copy()
            better[free] = near.to_whole(found)
            if self.program.holds(better) and is_better(
                self.program.cost(better), self.program.cost(self.chosen)
            ):
                self.chosen = better
                return True
        return False
