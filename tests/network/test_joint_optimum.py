"""Small networks against an optimum that shares no code with the package.

Each enquiry is handed to one of two bases, in every way; ``tests/reference`` knows the optimum of a
base by itself. The best of all ways is that of the network.
"""

from datetime import timedelta
from functools import cache
from itertools import product
from random import Random

import pytest

from capacity import Settings
from capacity.facts import Base, Check, Network, SharedEnquiry, Status
from capacity.network.joint import JointProgram
from capacity.network.rounds import plan_network
from capacity.network.values import NetworkPlanned
from tests.reference.every_rule_program import best_with_every_rule
from tests.reference.random_bases import tiny_base

SHARED = 3


def two_bases(seed: int) -> Network:
    """Two invented bases whose fixed checks have a slot, and three enquiries to both."""
    rng = Random(seed)
    bases = {}
    while len(bases) < 2:
        base = tiny_base(rng)
        if best_with_every_rule(base) is not None:
            bases["East" if bases else "West"] = base
    enquiries = []
    for number in range(SHARED):
        earliest = min(base.first_day for base in bases.values()) + timedelta(rng.randint(0, 16))
        check = Check(
            f"E{number}", f"X-E{number}", "Narrow", "P0", Status.OPTION, earliest,
            earliest + timedelta(rng.randint(0, 4)), price=float(rng.randint(1, 9) * 500),
        )  # fmt: skip
        ferries = {name: float(rng.randint(0, 4) * 200) for name in bases}
        enquiries.append(SharedEnquiry(check, ferries))
    return Network(bases, tuple(enquiries))


def joint_optimum(network: Network) -> tuple[int, float]:
    """Return the fewest days past of all bases, and the least money at that."""

    @cache
    def best(at: str, names: frozenset[str]) -> tuple[int, float]:
        base: Base = network.bases[at]
        more = tuple(one.at(at) for one in network.enquiries if one.name in names)
        found = best_with_every_rule(base.replace(checks=(*base.checks, *more)))
        assert found is not None
        return found

    ways = []
    for at in product(network.bases, repeat=len(network.enquiries)):
        each = [
            best(
                base,
                frozenset(
                    e.name for e, to in zip(network.enquiries, at, strict=True) if to == base
                ),
            )
            for base in network.bases
        ]
        ways.append((sum(days for days, _ in each), sum(money for _, money in each)))
    return min(ways)


@pytest.mark.parametrize("seed", [1, 2, pytest.param(3, marks=pytest.mark.long)])
def test_a_small_network_is_planned_as_well_as_can_be(seed: int) -> None:
    network = two_bases(seed)
    answer = plan_network(network, Settings(seconds=20))
    assert isinstance(answer, NetworkPlanned)
    days, money = joint_optimum(network)
    assert answer.days_past == days
    assert answer.cost == pytest.approx(money, abs=0.01)
    assert answer.bound == pytest.approx(money, abs=0.01)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(4, 8))
def test_no_bound_is_above_the_optimum(seed: int, monkeypatch) -> None:
    """Planned apart at prices, in turn with what each takes: never too good to be true."""
    monkeypatch.setattr(JointProgram, "size", property(lambda program: 10**9))
    network = two_bases(seed)
    answer = plan_network(network, Settings(seconds=4))
    assert isinstance(answer, NetworkPlanned)
    days, money = joint_optimum(network)
    assert answer.days_past == days
    assert answer.bound is not None
    assert answer.bound <= money + 0.01
    assert answer.cost >= money - 0.01
