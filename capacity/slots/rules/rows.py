"""What a rule returns: named rows over the columns of the program."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array


@dataclass(frozen=True)
class Rows:
    """``matrix @ x <= capacity`` with a name for each row that a planner understands.

    ``matrix`` has shape (rows, columns), non-negative; ``capacity`` (rows,).
    """

    names: tuple[str, ...]
    matrix: csr_array
    capacity: NDArray[np.float64]


class RowMaker:
    """Collects rows one by one; those that can never bind are left out."""

    def __init__(self, columns: int) -> None:
        """Begin without rows over so many columns."""
        self._columns = columns
        self._names: list[str] = []
        self._members: list[NDArray[np.int64]] = []
        self._sizes: list[NDArray[np.float64]] = []
        self._capacity: list[float] = []

    def add(
        self,
        name: str,
        members: NDArray[np.int64],
        capacity: float,
        sizes: NDArray[np.float64] | None = None,
    ) -> None:
        """Add a row over the ``members``; they count ``sizes``, else 1 each."""
        sizes = np.ones(len(members)) if sizes is None else sizes
        if sizes.sum() <= capacity:
            return
        self._names.append(name)
        self._members.append(members)
        self._sizes.append(sizes)
        self._capacity.append(capacity)

    def rows(self) -> Rows:
        """Return the rows as they were added."""
        lengths = [len(members) for members in self._members]
        return Rows(
            names=tuple(self._names),
            matrix=csr_array(
                (
                    np.concatenate([*self._sizes, np.empty(0)]),
                    np.concatenate([*self._members, np.empty(0, dtype=np.int64)]),
                    np.cumsum([0, *lengths]),
                ),
                shape=(len(lengths), self._columns),
            ),
            capacity=np.array(self._capacity, dtype=np.float64),
        )


def pairs_of_checks(
    check: NDArray[np.int64], one: NDArray[np.int64], other: NDArray[np.int64]
) -> Iterator[NDArray[np.int64]]:
    """Yield the columns of every check among the one and every other check among the other.

    ``check`` (columns,) is whose each column is.
    """
    of_one, of_other = check[one], check[other]
    for name in np.unique(of_one):
        for another in np.unique(of_other):
            if name != another:
                yield np.concatenate([one[of_one == name], other[of_other == another]])


def stacked(families: Sequence[Rows], columns: int) -> Rows:
    """Return the rows of all families, one below the other, over ``columns`` columns."""
    matrices = [family.matrix for family in families]
    data = np.concatenate([m.data for m in matrices] or [np.empty(0)])
    indices = np.concatenate([m.indices for m in matrices] or [np.empty(0, dtype=np.int64)])
    lengths = np.concatenate([np.diff(m.indptr) for m in matrices] or [np.empty(0, dtype=np.int64)])
    indptr = np.concatenate(([0], np.cumsum(lengths)))
    return Rows(
        names=tuple(name for family in families for name in family.names),
        matrix=csr_array((data, indices, indptr), shape=(len(lengths), columns)),
        capacity=np.concatenate([family.capacity for family in families] or [np.empty(0)]),
    )
