"""Generalised assignment: every base a knapsack of man-hours, against published optima.

The instance c515-1 (gap1) of Osman (1995) and Cattrysse, Salomon and Van Wassenhove (1994), as it
stands in the example ``gap.mod`` of GNU MathProg, where it was read: "The optimal solution is 261
(minimization) or 336 (maximization)".
"""

import pytest

from capacity import Settings
from capacity.network.joint import JointProgram
from capacity.network.rounds import plan_network
from capacity.network.values import NetworkPlanned
from tests.network.assignments import assignment

TAKES = (
    (8, 15, 14, 23, 8, 16, 8, 25, 9, 17, 25, 15, 10, 8, 24),
    (15, 7, 23, 22, 11, 11, 12, 10, 17, 16, 7, 16, 10, 18, 22),
    (21, 20, 6, 22, 24, 10, 24, 9, 21, 14, 11, 14, 11, 19, 16),
    (20, 11, 8, 14, 9, 5, 6, 19, 19, 7, 6, 6, 13, 9, 18),
    (8, 13, 13, 13, 10, 20, 25, 16, 16, 17, 10, 10, 5, 12, 23),
)
CAPACITIES = (36, 34, 38, 27, 33)
COSTS = (
    (17, 21, 22, 18, 24, 15, 20, 18, 19, 18, 16, 22, 24, 24, 16),
    (23, 16, 21, 16, 17, 16, 19, 25, 18, 21, 17, 15, 25, 17, 24),
    (16, 20, 16, 25, 24, 16, 17, 19, 19, 18, 20, 16, 17, 21, 24),
    (19, 19, 22, 22, 20, 16, 19, 17, 21, 19, 25, 23, 25, 25, 25),
    (18, 19, 15, 15, 21, 25, 16, 16, 23, 15, 22, 17, 19, 22, 24),
)
JOBS, LEAST, MOST = 15, 261, 336
# So much more than any cost that no job is left out for another one's sake.
EACH = 1000


@pytest.mark.parametrize(("sign", "best"), [(-1, LEAST), (1, MOST)])
def test_a_published_optimum_is_found_and_proven(sign: int, best: int) -> None:
    network = assignment(TAKES, CAPACITIES, [[EACH + sign * c for c in row] for row in COSTS])
    answer = plan_network(network, Settings(seconds=20))
    assert isinstance(answer, NetworkPlanned)
    assert answer.cost == pytest.approx(-(JOBS * EACH + sign * best))
    assert answer.bound == pytest.approx(answer.cost)
    assert answer.stopped_by == "proof"
    assert not answer.not_taken


@pytest.mark.long
def test_prices_bound_it_though_the_bases_are_planned_apart(monkeypatch) -> None:
    """Not solved together: what is proven is the relaxation's and the Lagrangian bound."""
    monkeypatch.setattr(JointProgram, "size", property(lambda program: 10**9))
    network = assignment(TAKES, CAPACITIES, [[EACH - c for c in row] for row in COSTS])
    answer = plan_network(network, Settings(seconds=8, gap=0.005))
    assert isinstance(answer, NetworkPlanned)
    least = LEAST - JOBS * EACH
    assert answer.bound is not None
    assert answer.bound <= least + 1e-6
    assert answer.cost >= least - 1e-6
    assert answer.gap is not None
    assert answer.gap <= 0.07  # at most one job is left out
    assert any(answer.shared_prices.values())
