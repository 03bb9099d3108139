"""Somebody sets the clock of the machine while a search goes on."""

from pathlib import Path

import pytest

import capacity
from capacity.plans.outcome import Planned
from tests.bench.invented import invented_quarter

CLOCKS = Path(__file__).parent / "clocks"
SECONDS = 5.0
HOUR = 3600.0


@pytest.mark.long
def test_a_clock_that_is_set_forward_ends_no_search_early(monkeypatch: pytest.MonkeyPatch) -> None:
    """The sides see another hour than the coordinator does."""
    monkeypatch.setenv("PYTHONPATH", str(CLOCKS))
    monkeypatch.setenv("JUMP_SECONDS", str(HOUR))
    outcome = capacity.plan(invented_quarter(4), capacity.Settings(seconds=SECONDS))
    assert isinstance(outcome, Planned)
    assert outcome.stopped_by == "time"
    # The sides have said their last word when their time is up, and the last look takes a moment.
    assert outcome.seconds > 0.8 * SECONDS
