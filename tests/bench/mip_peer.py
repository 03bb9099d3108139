"""Peer: the MIP engine alone on the same program, from nothing."""

import time
from math import ceil, inf, isfinite

from capacity.facts import Base
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.program.linear_form import days_form, money_form
from tests.bench.columns_of_base import built
from tests.bench.result import Found, audited_goals, checked_bound

# Days past Latest in are whole, so a bound in between is one for the next whole number.
TINY = 1e-6


def mip_alone(base: Base, seconds: float, seed: int) -> Found:
    """Solve goal 1, in half the time at most, then money with no more days past.

    No plan is handed in at the start; the engine has one thread and no use for a seed.
    """
    began = time.monotonic()
    both = built(base)
    built_in = time.monotonic() - began
    days = branch_and_cut(days_form(both.program), None, (seconds - built_in) / 2)
    if days.chosen is None:
        return Found(time.monotonic() - began, "time: no plan")
    chosen, closed, bound = days.chosen, False, -inf
    past, _ = both.program.cost(chosen)
    left = seconds - (time.monotonic() - began)
    if left > 0:
        kept = both.program.within_days(past)
        money = branch_and_cut(money_form(kept.program), None, left)
        # Cheaper or not: the plan of goal 1 has a price too, which nobody looked at.
        choices = [chosen] + ([] if money.chosen is None else [kept.to_whole(money.chosen)])
        chosen = min(choices, key=both.program.cost)
        bound, closed = money.bound, money.finished
    goals = audited_goals(both.plan(chosen), base)
    return Found(
        seconds=time.monotonic() - began,
        stopped_by="proof" if closed and days.finished else "time",
        days_past=goals.days_past_latest_in,
        money=goals.money,
        days_bound=max(0, ceil(days.bound - TINY)) if isfinite(days.bound) else None,
        bound=checked_bound(bound, goals.money),
    )
