"""Rows that seldom bind are taken into a program once they are found broken, not before.

Shops have a row for each window of days that could be asked too much: thousands, of which a
search meets a few. Whatever is proven without some rows holds with them; a choice found
without them is looked at before it counts.
"""

import numpy as np
from numpy.typing import NDArray

from capacity.search_settings import SearchSettings
from capacity.slots.program.choice import Choice
from capacity.slots.program.impossible_columns import possible_within
from capacity.slots.program.program import TINY, Program, Restricted

# Rows of a relaxation that are broken by less are left: they would hardly move it.
MUCH = 1e-4


class LazyRows:
    """A program that grows by the rows found broken; its columns are always those of the whole."""

    def __init__(self, whole: Program, settings: SearchSettings) -> None:
        """Begin without the rows that seldom bind, if they are many."""
        self._whole, self._settings = whole, settings
        entries = np.bincount(whole.footprint.indices, minlength=len(whole.capacity))
        few = entries[whole.lazy].sum() < settings.most_entries_at_once
        self._taken_in = np.ones_like(whole.lazy) if few else ~whole.lazy
        self.program = whole if few else whole.with_rows(np.flatnonzero(self._taken_in))
        self._possible: tuple[int, NDArray[np.bool_]] | None = None

    def within(self, days: int) -> Restricted:
        """Return the program of choices with at most ``days`` past, with their columns only.

        Which these are is told once for the same days: with more rows there are none more.
        """
        if self._possible is None or self._possible[0] != days:
            self._possible = days, possible_within(self.program, days, self._settings)
        return self.program.within_days(days, self._possible[1])

    def broken_by(self, chosen: Choice) -> bool:
        """Take in the rows that a choice breaks; return whether there were any."""
        if self._taken_in.all():
            return False
        taken = self._whole.footprint[chosen[chosen >= 0]].sum(axis=0)
        return self._take_in(taken > self._whole.capacity + TINY)

    def broken_by_weights(self, columns: NDArray[np.int64], weights: NDArray[np.float64]) -> bool:
        """Take in the rows that fractions of columns break by much; return whether any."""
        if self._taken_in.all():
            return False
        each = np.zeros(self._whole.size)
        each[columns] = weights
        taken = self._whole.footprint.T @ each
        return self._take_in(taken > self._whole.capacity + MUCH)

    def _take_in(self, broken: NDArray[np.bool_]) -> bool:
        more = broken & ~self._taken_in
        if not more.any():
            return False
        self._taken_in |= more
        self.program = self._whole.with_rows(np.flatnonzero(self._taken_in))
        return True
