"""Small linear programs in plain Python: the simplex method on sparse rows.

It goes from vertex to vertex, each no dearer than the one before, so that whatever is added to a
program later begins where the last answer ended. (Dantzig's rule, and Bland's where vertices
coincide: with it no vertex comes twice.)
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from math import inf

from capacity.errors import EngineError

EXACT = 1e-9
"""Reduced prices above minus this are none; factors below it are not divided by."""

DUST = 1e-12
"""Factors below this are roundings of 0."""

MOST_ROUNDING = 1e-6
"""What is left of a row may be below 0 by no more, as sums of many hours are rounded."""

PATIENCE = 20
"""After so many steps in a row that lead nowhere else Bland's rule takes over."""


class Simplex:
    """Minimise prices over columns of at least 0 that keep rows, at a vertex at any time.

    Each row is solved for a column of its own: ``column = value - sum(factor * other)``, the
    others being 0 at the vertex.
    """

    def __init__(self, columns: int) -> None:
        """Begin with so many columns, all 0, and no rows."""
        self._columns = columns
        self._rows: dict[int, dict[int, float]] = {}
        self._value: dict[int, float] = {}
        self._rows_with: defaultdict[int, set[int]] = defaultdict(set)

    def add(self, terms: Iterable[tuple[int, float]], side: float, own: int | None = None) -> None:
        """Add the row ``sum(factor * column) + own = side``, at least 0 being left for ``own``.

        ``own`` is a column that stands in no row yet, or a new one.

        Raises
        ------
        ValueError
            When less than 0 is left at the vertex.
        """
        if own is None:
            own = self.further_column()
        row: defaultdict[int, float] = defaultdict(float)
        for column, factor in terms:
            if column not in self._rows:
                row[column] += factor
                continue
            side -= factor * self._value[column]
            for other, others_factor in self._rows[column].items():
                row[other] -= factor * others_factor
        self._rows[own] = {column: factor for column, factor in row.items() if abs(factor) > DUST}
        if side < -MOST_ROUNDING:
            raise ValueError(f"the row leaves {side} at the vertex, less than 0")
        self._value[own] = max(0.0, side)
        for column in self._rows[own]:
            self._rows_with[column].add(own)

    def further_column(self) -> int:
        """Return a column more, which stands in no row yet."""
        self._columns += 1
        return self._columns - 1

    def now(self, column: int) -> float:
        """Return what a column is at the vertex."""
        return self._value.get(column, 0.0)

    def minimise(self, prices: Mapping[int, float]) -> None:
        """Go to a vertex of least ``sum(price * column)``; columns not named have no price.

        Raises
        ------
        EngineError
            When there is no least one.
        """
        reduced = defaultdict(float, prices)
        for own, row in self._rows.items():
            if price := prices.get(own, 0.0):
                for column, factor in row.items():
                    reduced[column] -= price * factor
        for own in self._rows:
            reduced.pop(own, None)
        idle = 0
        while saving := [column for column, price in reduced.items() if price < -EXACT]:
            comes = min(saving) if idle > PATIENCE else min(saving, key=reduced.__getitem__)
            step, goes = self._first_to_vanish(comes)
            if goes is None:
                raise EngineError("the man-hours could not be shared out: no least cost")
            idle = idle + 1 if step <= DUST else 0
            self._exchange(comes, goes, reduced)

    def _first_to_vanish(self, comes: int) -> tuple[float, int | None]:
        """Return by how much a column can grow, and the column that is 0 then."""
        least, goes = inf, None
        for own in self._rows_with[comes]:
            factor = self._rows[own][comes]
            if factor <= EXACT:
                continue
            step = self._value[own] / factor
            if goes is None or step < least or (step == least and own < goes):
                least, goes = step, own
        return least, goes

    def _exchange(self, comes: int, goes: int, reduced: defaultdict[int, float]) -> None:
        """Solve the row of ``goes`` for ``comes``, and put that into all others."""
        row, value = self._rows.pop(goes), self._value.pop(goes)
        factor = row.pop(comes)
        for column in (*row, comes):
            self._rows_with[column].discard(goes)
        mine = {column: of / factor for column, of in row.items()}
        mine[goes] = 1.0 / factor
        value /= factor
        for own in self._rows_with.pop(comes, ()):
            other = self._rows[own]
            times = other.pop(comes)
            self._value[own] = max(0.0, self._value[own] - times * value)
            for column, of in mine.items():
                changed = other.get(column, 0.0) - times * of
                if abs(changed) > DUST:
                    other[column] = changed
                    self._rows_with[column].add(own)
                elif column in other:
                    del other[column]
                    self._rows_with[column].discard(own)
        price = reduced.pop(comes)
        for column, of in mine.items():
            reduced[column] -= price * of
        self._rows[comes], self._value[comes] = mine, value
        for column in mine:
            self._rows_with[column].add(comes)
