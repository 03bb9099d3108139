"""What the sides of a search are called, and with which task each of them begins."""

from dataclasses import replace

import numpy as np

from capacity.slots.line.reports import Task

PROVING, FINDING = "prove", "find"
# Seeds are counted up from there by the turn; every engine takes them up to 2**31.
BITS_DROPPED = 2


def finding_sides(count: int) -> tuple[str, ...]:
    """Return the names of so many sides that find plans: ``find``, ``find-2`` and so on."""
    return (FINDING, *(f"{FINDING}-{number}" for number in range(2, count + 1)))[:count]


def kind_of(side: str) -> str:
    """Return whether a side proves or finds plans."""
    return side.partition("-")[0]


def number_of(side: str) -> int:
    """Return the number of a side that finds plans, from 1 on; 0 for the one that proves."""
    kind, _, number = side.partition("-")
    return 0 if kind == PROVING else int(number or 1)


def task_of(side: str, task: Task, count: int) -> Task:
    """Return the task of one of ``count`` sides that find plans, or of the one that proves.

    The first two sides of a search have the task as it is, so that a search with these alone is
    the same however many there might be; each further one has a seed of its own.
    """
    number = number_of(side)
    shares = count > 1 and number > 0
    if number <= 1:
        return replace(task, shares=shares)
    settings = replace(task.settings, seed=seed_of(task.settings.seed, number))
    return replace(task, settings=settings, number=number, shares=shares)


def seed_of(seed: int, number: int) -> int:
    """Return the seed of a further side: far from those of the others, however far they count."""
    return int(np.random.SeedSequence((seed, number)).generate_state(1)[0]) >> BITS_DROPPED
