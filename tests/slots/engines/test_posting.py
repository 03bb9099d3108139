"""Linear programs at the edge of what HiGHS looks at."""

import numpy as np
import pytest
from scipy.sparse import csr_array

from capacity.slots.engines.posting import LinearModel, values_of


@pytest.mark.parametrize(("least", "holds"), [(0.0, True), (1.0, False)])
def test_without_columns_the_rows_alone_decide(least: float, holds: bool) -> None:
    nothing = np.empty(0)
    model = LinearModel(
        matrix=csr_array((1, 0)),
        row_lower=np.array([least]),
        row_upper=np.array([2.0]),
        lower=nothing,
        upper=nothing,
        cost=nothing,
        is_whole=np.empty(0, dtype=np.bool_),
    )
    found = values_of(model, 1.0, 0.0)
    assert (found is not None and len(found) == 0) if holds else found is None
