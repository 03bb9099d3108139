"""Rows of a linear program, put together one after the other."""

from collections.abc import Iterable, Iterator
from itertools import pairwise


class Rows:
    """Rows that add columns up, each times its factor, and hold the sum to a right-hand side.

    Row r has the ``columns`` and ``factors`` from ``ends[r]`` up to ``ends[r + 1]``.
    """

    def __init__(self) -> None:
        """Begin without rows."""
        self.sides: list[float] = []
        self.columns: list[int] = []
        self.factors: list[float] = []
        self.ends = [0]

    def add(self, columns: Iterable[int], side: float) -> None:
        """Add the row ``sum of columns`` against ``side``."""
        self.add_weighted(((column, 1.0) for column in columns), side)

    def add_weighted(self, terms: Iterable[tuple[int, float]], side: float) -> None:
        """Add the row ``sum of factor * column`` against ``side``."""
        for column, factor in terms:
            self.columns.append(column)
            self.factors.append(factor)
        self.sides.append(side)
        self.ends.append(len(self.columns))

    def each(self) -> Iterator[tuple[list[tuple[int, float]], float]]:
        """Yield each row's columns with their factors, and its right-hand side."""
        for (first, until), side in zip(pairwise(self.ends), self.sides, strict=True):
            span = slice(first, until)
            yield list(zip(self.columns[span], self.factors[span], strict=True)), side
