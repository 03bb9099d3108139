"""What a rule returns: named rows over the columns of the program."""

from collections.abc import Sequence
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
