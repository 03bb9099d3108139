"""Textbook networks for the trade-off of time and cost, as far as a check can tell them.

Sources, both typed from memory of the books; the least cost for each deadline is solved for
here, so that a slip in the data would show:

* Hillier and Lieberman, Introduction to Operations Research: Reliable Construction Company.
* Render, Stair and others, Quantitative Analysis for Management: General Foundry.

A week of the book is a day here. What crashing costs is not among the facts of a base, so the
costs are those of the book alone: it is the lengths that are compared. Paces shorten stages
whole, one of them or all; what the book shortens in part is put in as normal days.
"""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from capacity.facts import Package, Stage
from tests.reference import stories
from tests.reference.stories import day, proven, visit


class Activity(NamedTuple):
    """Lengths in weeks; ``cost`` is for each week that it is made shorter."""

    after: str
    normal: int
    crash: int
    cost: int


Network = Mapping[str, Activity]

RELIABLE = {
    "A": Activity("", 2, 1, 100),
    "B": Activity("A", 4, 2, 50),
    "C": Activity("B", 10, 7, 80),
    "D": Activity("C", 6, 4, 40),
    "E": Activity("C", 4, 3, 160),
    "F": Activity("E", 5, 3, 40),
    "G": Activity("D", 7, 4, 40),
    "H": Activity("EG", 9, 6, 60),
    "I": Activity("C", 7, 5, 30),
    "J": Activity("FI", 8, 6, 30),
    "K": Activity("J", 4, 3, 40),
    "L": Activity("J", 5, 3, 50),
    "M": Activity("H", 2, 1, 100),
    "N": Activity("KL", 6, 3, 60),
}
FOUNDRY = {
    "A": Activity("", 2, 1, 1000),
    "B": Activity("", 3, 1, 2000),
    "C": Activity("A", 2, 1, 1000),
    "D": Activity("B", 4, 3, 1000),
    "E": Activity("C", 4, 2, 1000),
    "F": Activity("C", 3, 2, 500),
    "G": Activity("DE", 5, 2, 2000),
    "H": Activity("FG", 2, 1, 3000),
}
# Deadline in weeks and the least extra cost; the first in thousands.
RELIABLE_COSTS = {44: 0, 43: 30, 42: 60, 41: 100, 40: 140, 38: 240, 36: 400, 33: 670}
RELIABLE_COSTS |= {30: 970, 28: 1350}
FOUNDRY_COSTS = {15: 0, 14: 1000, 13: 3000, 12: 5000, 11: 7000, 10: 9000, 9: 12000, 8: 15000}
FOUNDRY_COSTS |= {7: 18000}

BOOKS = [pytest.param(RELIABLE, 44, 28, id="Reliable"), pytest.param(FOUNDRY, 15, 7, id="Foundry")]
ROWS = [pytest.param(RELIABLE, *row, id=f"Reliable {row[0]}") for row in RELIABLE_COSTS.items()]
ROWS += [pytest.param(FOUNDRY, *row, id=f"Foundry {row[0]}") for row in FOUNDRY_COSTS.items()]


def days_late(network: Network, days: Mapping[str, int], flexible: str, agreed: int) -> int:
    """Return the fewest days by which a check in on day 0 is out after day ``agreed``.

    Its stages take so many ``days``; the ``flexible`` ones may be crashed.
    """
    stages = tuple(
        Stage(
            name,
            "maintenance",
            days[name],
            after=tuple(activity.after),
            shortest_days=activity.crash if name in flexible else None,
        )
        for name, activity in network.items()
    )
    promised = {"agreed_out": day(agreed), "late_cost_per_day": 1.0}
    wanted = visit("X", 1, 0, 0, package="network", **promised)
    packages = (Package("network", stages),)
    outcome = proven(stories.base(stories.bays(1), wanted, packages=packages))
    assert outcome.audit.goals.days_past_latest_in == 0
    return round(outcome.audit.goals.money)


def normal(network: Network) -> dict[str, int]:
    return {name: activity.normal for name, activity in network.items()}


def cheapest_crashing(network: Network, deadline: int) -> tuple[float, dict[str, int]] | None:
    """Return the least extra cost and the days of each activity; None when it cannot be met.

    The program of the books: for each activity its start and the weeks it is made shorter by.
    """
    names = list(network)
    count = len(names)
    rows, low = [], []
    for number, (name, activity) in enumerate(network.items()):
        for before in activity.after:
            row = np.zeros(2 * count)  # start >= start before + normal - shorter before
            other = names.index(before)
            row[[number, other, count + other]] = 1, -1, 1
            rows.append(row)
            low.append(network[before].normal)
        row = np.zeros(2 * count)  # deadline >= start + normal - shorter
        row[[number, count + number]] = -1, 1
        rows.append(row)
        low.append(network[name].normal - deadline)
    shorter = [activity.normal - activity.crash for activity in network.values()]
    result = milp(
        [0.0] * count + [activity.cost for activity in network.values()],
        integrality=np.ones(2 * count),
        bounds=Bounds(0, [float(deadline)] * count + shorter),
        constraints=LinearConstraint(np.array(rows), np.array(low)),
    )
    if not result.success:
        return None
    taken = np.round(result.x[count:]).astype(int)
    days = {name: network[name].normal - int(taken[n]) for n, name in enumerate(names)}
    return float(result.fun), days


@pytest.mark.parametrize(("network", "length", "crashed"), BOOKS)
def test_the_length_is_that_of_the_critical_path(
    network: Network, length: int, crashed: int
) -> None:
    assert days_late(network, normal(network), "", agreed=length - 1) == 1
    assert days_late(network, normal(network), "", agreed=length) == 0
    everything = "".join(network)
    assert days_late(network, normal(network), everything, agreed=crashed) == 0
    assert days_late(network, normal(network), everything, agreed=crashed - 1) == 1
    assert cheapest_crashing(network, crashed - 1) is None


@pytest.mark.parametrize(("network", "deadline", "cost"), ROWS)
def test_the_cheapest_crashing_of_the_book_just_meets_its_deadline(
    network: Network, deadline: int, cost: int
) -> None:
    found = cheapest_crashing(network, deadline)
    assert found is not None
    assert found[0] == pytest.approx(cost)
    assert days_late(network, found[1], "", agreed=deadline) == 0
    assert days_late(network, found[1], "", agreed=deadline - 1) == 1


@pytest.mark.parametrize(
    ("network", "flexible", "length"),
    [
        (RELIABLE, "J", 42),  # 2 weeks at 30: the least cost for 42 weeks
        (RELIABLE, "FJ", 40),  # the plan that the book states for 40 weeks, 140
        (FOUNDRY, "A", 14),  # 1 week at 1000, the least cost for 14 weeks
        (FOUNDRY, "AG", 11),  # with 3 weeks at 2000, the least cost for 11 weeks
        (FOUNDRY, "ABCDEGH", 7),  # all but F, which is not critical: the least cost for 7 weeks
    ],
)
def test_paces_reach_what_the_book_reaches_by_crashing_whole_activities(
    network: Network, flexible: str, length: int
) -> None:
    crashed = [network[name] for name in flexible]
    costs = RELIABLE_COSTS if network is RELIABLE else FOUNDRY_COSTS
    assert sum(one.cost * (one.normal - one.crash) for one in crashed) == costs[length]
    assert days_late(network, normal(network), flexible, agreed=length) == 0
    assert days_late(network, normal(network), flexible, agreed=length - 1) == 1
