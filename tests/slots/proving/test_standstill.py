"""A proof is at a standstill when time brings its bound no nearer to the best plan."""

import numpy as np
import pytest

from capacity.search_settings import SearchSettings
from capacity.slots.proving import standstill
from capacity.slots.proving.standstill import Standstill

SECONDS = 60.0
PATIENCE = 10.0
TIMING = SearchSettings(
    standstill_gap_share=0.01,
    standstill_share=PATIENCE / SECONDS,
    least_standstill_seconds=2.0,
    least_gap_to_find=0.05,
)
MONEY, BOUND = 1000.0, 800.0
# One hundredth of the gap, and a little more or less.
MUCH, LITTLE = 2.1, 1.9


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """The time, to be put forward by hand."""
    now = [100.0]
    monkeypatch.setattr(standstill.time, "monotonic", lambda: now[0])
    return now


@pytest.fixture
def heard(clock: list[float]) -> Standstill:
    """One that has heard a bound at the beginning."""
    still = Standstill(TIMING, SECONDS)
    assert not still.is_reached(MONEY, BOUND)
    return still


def test_it_is_reached_after_the_patience_and_not_before(
    heard: Standstill, clock: list[float]
) -> None:
    clock[0] += PATIENCE
    assert not heard.is_reached(MONEY, BOUND)
    clock[0] += 0.1
    assert heard.is_reached(MONEY, BOUND)


def test_a_rise_by_a_hundredth_of_the_gap_begins_the_wait_anew(
    heard: Standstill, clock: list[float]
) -> None:
    clock[0] += PATIENCE - 1.0
    assert not heard.is_reached(MONEY, BOUND + MUCH)
    clock[0] += PATIENCE
    assert not heard.is_reached(MONEY, BOUND + MUCH)
    clock[0] += 0.1
    assert heard.is_reached(MONEY, BOUND + MUCH)


def test_a_smaller_rise_does_not(heard: Standstill, clock: list[float]) -> None:
    clock[0] += PATIENCE - 1.0
    assert not heard.is_reached(MONEY, BOUND + LITTLE)
    clock[0] += 1.1
    assert heard.is_reached(MONEY, BOUND + LITTLE)


def test_small_rises_add_up(heard: Standstill, clock: list[float]) -> None:
    bound = BOUND
    for _ in range(10):
        clock[0] += PATIENCE / 2
        bound += LITTLE
        assert not heard.is_reached(MONEY, bound)


def test_a_better_plan_alone_is_no_progress_of_the_proof(
    heard: Standstill, clock: list[float]
) -> None:
    clock[0] += PATIENCE + 0.1
    assert heard.is_reached(MONEY - 100.0, BOUND)


def test_near_the_best_plan_the_proof_goes_on(heard: Standstill, clock: list[float]) -> None:
    clock[0] += PATIENCE + 0.1
    near = BOUND / (1.0 - TIMING.least_gap_to_find)
    assert not heard.is_reached(near - 1.0, BOUND)
    assert heard.is_reached(near + 1.0, BOUND)


def test_money_earned_counts_by_its_size(clock: list[float]) -> None:
    still = Standstill(TIMING, SECONDS)
    assert not still.is_reached(-MONEY, -1.2 * MONEY)
    clock[0] += PATIENCE + 0.1
    assert still.is_reached(-MONEY, -1.2 * MONEY)


def test_without_a_bound_there_is_no_standstill(clock: list[float]) -> None:
    still = Standstill(TIMING, SECONDS)
    clock[0] += 2 * PATIENCE
    assert not still.is_reached(MONEY, -np.inf)
    # The first bound is progress, however late it comes.
    assert not still.is_reached(MONEY, BOUND)


def test_a_short_proof_has_patience_for_the_least_seconds(clock: list[float]) -> None:
    still = Standstill(TIMING, 6.0)
    assert not still.is_reached(MONEY, BOUND)
    clock[0] += TIMING.least_standstill_seconds
    assert not still.is_reached(MONEY, BOUND)
    clock[0] += 0.1
    assert still.is_reached(MONEY, BOUND)
