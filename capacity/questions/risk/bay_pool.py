"""A pool of bays with random arrivals and stays: how often an aircraft finds no bay free.

Before there is a plan: aircraft that come in at random (Poisson arrivals), stay for a random
time (exponential) and wait in turn for the first of ``bays`` alike bays. That is the queue
M/M/c; a real base books its slots, so waits come out longer here than a plan needs. Source of
the formulas: Erlang (1917); Gross and Harris, Fundamentals of Queueing Theory, section 2.3
(from memory).
"""

import heapq
import math
from dataclasses import dataclass

import numpy as np

from capacity.errors import CapacityError

BATCHES = 20
"""Runs of arrivals whose means tell how exact the simulation is."""


@dataclass(frozen=True, slots=True)
class BayPool:
    """What ``bays`` do at an ``offered`` load (bays that would be busy if none ever waited).

    ``waits`` is the probability that an aircraft waits; ``waiting`` the mean number that do. Both
    are 1 and inf when the bays cannot keep up.
    """

    bays: int
    offered: float
    waits: float
    waiting: float

    def wait_days(self, stay_days: float) -> float:
        """Return the mean wait of an aircraft when stays are that long; 0 for no load.

        ``Lq / lambda`` with ``lambda = offered / stay_days`` (Little's law).
        """
        return self.waiting * stay_days / self.offered if self.offered else 0.0


@dataclass(frozen=True, slots=True)
class SimulatedPool:
    """Estimates of ``waits`` and ``waiting`` with their standard errors."""

    waits: float
    waits_error: float
    waiting: float
    waiting_error: float


def bays_in_use(checks_per_year: float, stay_days: float) -> float:
    """Return the mean number of bays in use, ``checks a day * days of stay``.

    Little's law, L = lambda W, whatever the distributions. Source: Little, A proof for the
    queuing formula L = lambda W, Operations Research 9 (1961), from memory.
    """
    return checks_per_year / 365 * stay_days


def bay_pool(bays: int, offered: float) -> BayPool:
    """Return Erlang's C and the mean number waiting, exactly.

    From Erlang's loss ``B(0) = 1, B(k) = a B(k-1) / (k + a B(k-1))`` follow the probability of
    waiting ``C = c B(c) / (c - a (1 - B(c)))`` and the number waiting ``Lq = C a / (c - a)``. The
    recursion has no factorials that could overflow.

    Raises
    ------
    CapacityError
        When there is no bay or the load is negative.
    """
    _refuse_nonsense(bays, offered)
    if offered >= bays:
        return BayPool(bays, offered, 1.0, math.inf)
    blocked = 1.0
    for number in range(1, bays + 1):
        blocked = offered * blocked / (number + offered * blocked)
    waits = bays * blocked / (bays - offered * (1 - blocked))
    return BayPool(bays, offered, waits, waits * offered / (bays - offered))


def fewest_bays(offered: float, most_waits: float) -> BayPool:
    """Return the fewest bays at which an aircraft waits with at most that probability.

    Raises
    ------
    CapacityError
        When the load is negative or the probability is not above 0.
    """
    if most_waits <= 0:
        raise CapacityError(f"Some always wait: give more than 0, not {most_waits:g}.")
    pool = bay_pool(1, offered)
    while pool.waits > most_waits:
        pool = bay_pool(pool.bays + 1, offered)
    return pool


def simulate_pool(bays: int, offered: float, arrivals: int, seed: int) -> SimulatedPool:
    """Return estimates from playing the pool through, to check the formulas by.

    Each aircraft takes the bay that is free first, in the order in which they come. The first
    batch is left out, since the pool begins empty. The number waiting is the sum of all waits
    over the time observed (Little's law). Errors are those of the means of batches.

    Raises
    ------
    CapacityError
        When there is no bay, the load is none or more than the bays can carry, or there are too
        few arrivals.
    """
    _refuse_nonsense(bays, offered)
    if not 0 < offered < bays:
        raise CapacityError(f"{bays} bays never settle at a load of {offered:g}.")
    if arrivals < 10 * BATCHES:
        raise CapacityError(f"Give {10 * BATCHES} arrivals or more.")
    rng = np.random.default_rng(seed)
    gaps = rng.exponential(1 / offered, arrivals)
    stays = rng.exponential(1.0, arrivals)
    waits = _waits(bays, np.cumsum(gaps).tolist(), stays.tolist())
    by_batch = np.array_split(waits, BATCHES + 1)[1:]
    gaps_by_batch = np.array_split(gaps, BATCHES + 1)[1:]
    waited = [float(np.mean(part > 0)) for part in by_batch]
    waiting = [
        float(part.sum() / time.sum()) for part, time in zip(by_batch, gaps_by_batch, strict=True)
    ]
    return SimulatedPool(*_mean_and_error(waited), *_mean_and_error(waiting))


def _waits(bays: int, arrivals: list[float], stays: list[float]) -> list[float]:
    free = [0.0] * bays
    waits = []
    for arrival, stay in zip(arrivals, stays, strict=True):
        begins = max(arrival, free[0])
        heapq.heapreplace(free, begins + stay)
        waits.append(begins - arrival)
    return waits


def _mean_and_error(values: list[float]) -> tuple[float, float]:
    return float(np.mean(values)), float(np.std(values, ddof=1) / math.sqrt(len(values)))


def _refuse_nonsense(bays: int, offered: float) -> None:
    if bays < 1:
        raise CapacityError(f"{bays} bays hold no aircraft. Give 1 or more.")
    if not (math.isfinite(offered) and offered >= 0):
        raise CapacityError(f"The load is {offered:g}. Give a number of bays, 0 or more.")
