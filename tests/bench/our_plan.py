"""The plan that this project makes, timed."""

from capacity.facts import Base
from capacity.planning import plan
from capacity.plans.outcome import Planned
from capacity.settings import Settings
from tests.bench.result import Found, audited_goals


def our_plan(base: Base, seconds: float, seed: int) -> Found:
    """Plan as the command line would, and audit the plan once more."""
    outcome = plan(base, Settings(seconds=seconds, seed=seed))
    assert isinstance(outcome, Planned), outcome
    assert not outcome.faults, outcome.faults
    goals = audited_goals(outcome.plan, base)
    return Found(
        seconds=outcome.seconds,
        stopped_by=outcome.stopped_by,
        days_past=goals.days_past_latest_in,
        money=goals.money,
        days_bound=outcome.days_bound,
        bound=outcome.bound,
        first_seconds=outcome.history[0].seconds,
    )
