"""The plan that this project makes, timed."""

from capacity.facts import Base
from capacity.planning import plan
from capacity.plans.outcome import Planned
from capacity.settings import Settings
from tests.bench.result import Found, audited, turnover_of

# Added to the seed of a base for a second run of the search on it.
OTHER_SEED = 1000


def with_another_seed(base: Base, seconds: float, seed: int) -> Found:
    """Plan the base once more, with another seed of the search than that of the base."""
    return our_plan(base, seconds, seed + OTHER_SEED)


def until_4_percent(base: Base, seconds: float, seed: int) -> Found:
    """Plan as long as it takes to prove a gap of at most 4 %, within the limit."""
    return planned_with(base, Settings(seconds=seconds, seed=seed, gap=0.04))


def our_plan(base: Base, seconds: float, seed: int) -> Found:
    """Plan as the command line would, and audit the plan once more."""
    return planned_with(base, Settings(seconds=seconds, seed=seed))


def planned_with(base: Base, settings: Settings) -> Found:
    """Plan with these settings, and audit the plan once more."""
    outcome = plan(base, settings)
    assert isinstance(outcome, Planned), outcome
    assert not outcome.faults, outcome.faults
    audit = audited(outcome.plan, base)
    goals = audit.goals
    return Found(
        seconds=outcome.seconds,
        stopped_by=outcome.stopped_by,
        days_past=goals.days_past_latest_in,
        money=goals.money,
        days_bound=outcome.days_bound,
        bound=outcome.bound,
        first_seconds=outcome.history[0].seconds,
        turnover=turnover_of(audit),
    )
