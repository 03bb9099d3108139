"""Bounds from relaxations, and the rows that their optima were found to break."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from capacity.slots.engines.highs import Relaxation, relaxed
from capacity.slots.line.mailbox import Mailbox
from capacity.slots.line.reports import MoneyBound
from capacity.slots.program.day_sets import day_sets_broken_at
from capacity.slots.program.day_strands import DaySet
from capacity.slots.program.dominated_columns import undominated
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.linear_form import LinearForm, money_form
from capacity.slots.program.program import Program, Restricted
from capacity.slots.program.strands import WeekSet
from capacity.slots.program.week_sets import sets_broken_at, sets_broken_by

# Rows for sets of weeks are taken in at the relaxation while they raise it by such a share.
LEAST_RISE = 2e-4
# Those for sets of days, which come in dozens, while they raise it by more.
LEAST_RISE_BY_DAY = 3e-3
# From which entry on a column counts as taken by a relaxation.
TAKEN = 1e-6

# Columns of the whole, and the linear form over them.
Posted = tuple[Restricted, LinearForm]


def bound_by_relaxations(
    rows: LazyRows,
    post: Callable[[], Posted],
    on_bound: Callable[[float], None],
    take_in_more: Callable[[Posted, float, NDArray[np.float64]], bool] | None = None,
) -> tuple[Posted, Relaxation | None]:
    """Tell the relaxation's optimum; take in the rows that it breaks, and again.

    The optimum is inf when there is no solution. ``post`` makes the form over the rows taken in
    so far; the last one made is returned, and its relaxation. Once none of those is broken,
    ``take_in_more`` may take in others, by the optimum and its entries.
    """
    while True:
        restricted, form = posted = post()
        if (found := relaxed(form)) is None:
            on_bound(np.inf)
            return posted, None
        on_bound(found.value)
        if rows.broken_by_weights(restricted.number, found.entries[: restricted.program.size]):
            continue
        if take_in_more is None or not take_in_more(posted, found.value, found.entries):
            return posted, found


class MoneyRelaxations:
    """Relaxes the money of choices with so many days past, and keeps the last form made for it.

    ``sets`` of weeks and days are those with rows so far; ``last`` is the last relaxation, None
    where it has no solution; ``taken`` (columns,) marks what any of them took.
    """

    def __init__(
        self, mailbox: Mailbox, rows: LazyRows, on_days_bound: Callable[[float], None]
    ) -> None:
        """Begin with no sets; ``on_days_bound`` hears how many days past are proven."""
        self.sets: tuple[WeekSet | DaySet, ...] = ()
        self.last: Relaxation | None = None
        self.taken = np.zeros(mailbox.program.size, dtype=np.bool_)
        self._mailbox, self._rows, self._on_days_bound = mailbox, rows, on_days_bound
        self._last_form: tuple[int, Program, int, Posted] | None = None
        self._value_before: float | None = None

    def within(self, days: int) -> Posted:
        """Bound the money of choices with at most ``days`` past; return their form."""
        rows = self._rows
        if self._last_form is not None:
            of_days, of_program, of_sets, posted = self._last_form
            if of_days == days and of_program is rows.program and of_sets == len(self.sets):
                return posted

        def post() -> Posted:
            if rows.program.hours.days is not None:
                # Rows of any plan hold for all; those of a good one are most of what is wanted.
                self.take_in(sets_broken_by(rows.program, self._mailbox.best[0]))
            restricted = undominated(rows.within(days), rows.program.size)
            return restricted, money_form(restricted.program, self.sets)

        def on_bound(bound: float) -> None:
            if np.isfinite(bound):
                self._mailbox.tell(MoneyBound(days, bound))
            else:
                self._on_days_bound(days + 1.0)

        self._value_before = None
        posted, self.last = bound_by_relaxations(rows, post, on_bound, self._take_in_sets_at)
        self._last_form = days, rows.program, len(self.sets), posted
        return posted

    def take_in(self, sets: tuple[WeekSet | DaySet, ...]) -> bool:
        """Take in the sets that have no rows yet; return whether there are any."""
        more = tuple(one for one in sets if one not in self.sets)
        self.sets = (*self.sets, *more)
        return bool(more)

    def _take_in_sets_at(self, posted: Posted, value: float, entries: NDArray[np.float64]) -> bool:
        """Take in the sets of weeks that a relaxation breaks, as long as that raises its value."""
        restricted, form = posted
        program, weights = restricted.program, entries[: restricted.program.size]
        if not program.hours.are_levelled:
            return False
        self.taken[restricted.number[weights > TAKEN]] = True
        before, self._value_before = self._value_before, value
        least = LEAST_RISE if program.hours.days is None else LEAST_RISE_BY_DAY
        if before is not None and value - before < least * max(1.0, abs(value)):
            return False
        if program.hours.days is not None:
            return self.take_in(day_sets_broken_at(program, weights, form.bought_by(entries)))
        return self.take_in(sets_broken_at(program, weights, form.asked_by(entries)))
