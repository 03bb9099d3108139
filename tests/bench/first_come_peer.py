"""Peer: first come, first served, each check in order of ``Latest in``."""

import time

from capacity.facts import Base
from capacity.slots.program.first_come import first_come
from tests.bench.columns_of_base import built
from tests.bench.result import Found, audited_goals


def first_come_alone(base: Base, seconds: float, seed: int) -> Found:
    """Plan as a person without a computer might; neither limit nor seed matters to it."""
    began = time.monotonic()
    both = built(base)
    goals = audited_goals(both.plan(first_come(both.program, both.slots)), base)
    took = time.monotonic() - began
    return Found(
        seconds=took,
        stopped_by="done",
        days_past=goals.days_past_latest_in,
        money=goals.money,
        first_seconds=took,
    )
