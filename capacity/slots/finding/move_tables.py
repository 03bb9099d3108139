"""What each check could do instead, laid out for the last descent."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from capacity.slots.program.program import Program

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Moves:
    """The columns of one check in the program's order, and last of all to leave it out.

    ``money`` and ``past`` (moves,). What they ask stands once a ``course`` (moves,), counted
    from 0, the last one asking nothing: entry e says that course ``of[e]`` asks ``hours[e]``
    (kinds,) in week ``week[e]``, in the order of the courses.
    """

    first_column: int
    money: Floats
    past: Ints
    course: Ints
    of: Ints
    week: Ints
    hours: Floats

    @property
    def courses(self) -> int:
        """Return the number of courses, the one that asks nothing among them."""
        return int(self.course[-1]) + 1

    @cached_property
    def span(self) -> tuple[int, int]:
        """Return the first week in which any course asks something, and one past the last."""
        return (int(self.week.min()), int(self.week.max()) + 1) if len(self.week) else (0, 0)

    @cached_property
    def entry_of(self) -> Ints:
        """Return where the entries of each course begin, and one past the last."""
        starts: Ints = np.searchsorted(self.of, np.arange(self.courses + 1))
        return starts

    def number_of(self, column: int) -> int:
        """Return the move to a column of the program, -1 for leaving the check out."""
        return len(self.money) - 1 if column < 0 else column - self.first_column

    def columns_of(self, moves: Ints) -> Ints:
        """Return the columns of the program that moves go to, -1 for none."""
        return np.where(moves == len(self.money) - 1, -1, self.first_column + moves)

    def asks(self, moves: Ints, weeks: tuple[int, int]) -> Floats:
        """Return what moves ask over ``[first, until)`` weeks, shape (moves, weeks, kinds)."""
        first, until = weeks
        asked = np.zeros((len(moves), until - first, self.hours.shape[1]))
        start, stop = self.entry_of[self.course[moves]], self.entry_of[self.course[moves] + 1]
        count = stop - start
        entry = np.repeat(start - np.cumsum(count) + count, count) + np.arange(count.sum())
        asked[np.repeat(np.arange(len(moves)), count), self.week[entry] - first] = self.hours[entry]
        return asked


def moves_of(program: Program, check: int) -> Moves:
    """Return what a check could do."""
    first, until = (int(edge) for edge in program.first_column[check : check + 2])
    kinds = program.hours.supply.kinds
    courses, course = np.unique(program.course[first:until], return_inverse=True)
    asked = program.man_hours[courses].tocoo()
    week, kind = np.divmod(asked.col, max(1, kinds))
    weeks = program.hours.supply.weeks
    key, entry = np.unique(asked.row.astype(np.int64) * weeks + week, return_inverse=True)
    hours = np.zeros((len(key), kinds))
    np.add.at(hours, (entry, kind), asked.data)
    return Moves(
        first_column=first,
        money=np.append(program.money[first:until], 0.0),
        past=np.append(program.past[first:until], program.unplaced_past[check]),
        course=np.append(course, len(courses)).astype(np.int64),
        of=key // weeks,
        week=key % weeks,
        hours=hours,
    )
