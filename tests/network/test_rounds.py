"""How planning several bases ends, and what it says of what nobody takes."""

from dataclasses import replace
from threading import Event

import pytest

from capacity import Settings, SettingsError
from capacity.facts import Check, Network, Status
from capacity.network.rounds import plan_network
from capacity.network.values import NetworkImpossible, NetworkPlanned, NotTaken
from capacity.plans.outcome import OutOfTime
from tests.bases import FIRST_DAY, TWIN
from tests.network.assignments import assignment

QUICK = Settings(seconds=5)


def test_two_bases_take_what_they_earn_most_by() -> None:
    """Base 1 has room for 10 h, base 2 for 4 h: J0 (10 h) to the first, J1 (4 h) to the second."""
    network = assignment([[10, 10], [4, 4]], [10, 4], [[100, 90], [80, 75]])
    answer = plan_network(network, QUICK)
    assert isinstance(answer, NetworkPlanned)
    assert {one.check: one.at for one in answer.taken} == {"J0": "Base 1", "J1": "Base 2"}
    assert (answer.cost, answer.bound) == (pytest.approx(-175), pytest.approx(-175))
    first, second = answer.bases
    assert (first.earned, second.earned) == (100, 75)
    assert first.spent == second.spent == pytest.approx(0)
    (taken,) = second.taken
    assert (taken.price, taken.ferry_cost) == (90, 15)


def test_what_nobody_takes_would_have_to_pay_more_than_what_it_pushes_out() -> None:
    """Room for one of two: the other needs as much as the first pays, and the ferry cost."""
    network = assignment([[10, 10]], [10], [[100, 70]])
    one = replace(network.enquiries[1], ferry_costs={"Base 1": 25.0})
    answer = plan_network(Network(network.bases, (network.enquiries[0], one)), QUICK)
    assert isinstance(answer, NetworkPlanned)
    assert answer.not_taken == (NotTaken("J1", 70.0, "Base 1", pytest.approx(125.0)),)


def test_who_costs_more_to_fly_to_than_it_pays_is_not_taken() -> None:
    network = assignment([[1]], [10], [[50]])
    dear = replace(network.enquiries[0], ferry_costs={"Base 1": 60.0})
    answer = plan_network(Network(network.bases, (dear,)), QUICK)
    assert isinstance(answer, NetworkPlanned)
    assert not answer.taken
    assert answer.cost == answer.bound == 0


def test_bases_whose_fixed_checks_conflict_are_named() -> None:
    network = assignment([[1, 1], [1, 1]], [9, 9], [[5, 5], [5, 5]])
    fixed = tuple(
        Check(
            name, f"X-{name}", TWIN.name, "P0", Status.FIXED, FIRST_DAY, FIRST_DAY,
            fixed_bay="B0", fixed_in=FIRST_DAY,
        )
        for name in ("F1", "F2")
    )  # fmt: skip
    bases = {**network.bases, "Base 2": network.bases["Base 2"].replace(checks=fixed)}
    answer = plan_network(Network(bases, network.enquiries), QUICK)
    assert isinstance(answer, NetworkImpossible)
    assert answer.at == "Base 2"
    assert answer.why


def test_a_stop_leaves_the_best_plans_so_far(monkeypatch) -> None:
    network = assignment([[10, 10], [4, 4]], [10, 4], [[100, 90], [80, 75]])
    stop = Event()
    answer = plan_network(network, QUICK, lambda progress: stop.set(), stop)
    assert isinstance(answer, NetworkPlanned)
    assert answer.stopped_by == "stop"
    assert [one.name for one in answer.bases] == ["Base 1", "Base 2"]

    def broken_in(*arguments, **named):
        raise KeyboardInterrupt

    monkeypatch.setattr("capacity.network.rounds.plan", broken_in)
    assert isinstance(plan_network(network, QUICK), OutOfTime)


def test_what_breaks_down_on_the_way_loses_no_plan(monkeypatch) -> None:
    def broken(*arguments, **named):
        raise MemoryError

    monkeypatch.setattr("capacity.network.rounds.built_whole", broken)
    network = assignment([[10, 10], [4, 4]], [10, 4], [[100, 90], [80, 75]])
    answer = plan_network(network, QUICK)
    assert isinstance(answer, NetworkPlanned)
    assert (answer.stopped_by, len(answer.bases)) == ("fault", 2)
    assert answer.faults


@pytest.mark.long
def test_bases_too_large_to_be_joined_are_planned_at_prices_all_the_same(monkeypatch) -> None:
    monkeypatch.setattr("capacity.network.rounds.built_whole", lambda *arguments: None)
    network = assignment([[10, 10], [4, 4]], [10, 4], [[100, 90], [80, 75]])
    answer = plan_network(network, Settings(seconds=1.5))
    assert isinstance(answer, NetworkPlanned)
    assert answer.cost == pytest.approx(-175)
    assert answer.bound is not None
    assert answer.bound <= -175 + 1e-6


def test_no_bases_are_no_network() -> None:
    with pytest.raises(SettingsError, match="no bases"):
        plan_network(Network({}, ()))
