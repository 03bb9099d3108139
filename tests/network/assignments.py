"""Generalised assignment problems as networks: every base a knapsack of man-hours in one day.

Base i works one day, with so many man-hours as agent i has of its resource. Job j is an enquiry of
one day at all bases, whose package asks there what it takes of agent i.
"""

from collections.abc import Sequence
from datetime import time

from capacity.facts import (
    Base,
    Bay,
    Check,
    Crew,
    Network,
    Package,
    Pattern,
    SharedEnquiry,
    Shift,
    Skill,
    Stage,
    Status,
)
from tests.bases import BAY, FIRST_DAY, TWIN, small_base

# Never bought: more than any job earns.
OVERLOAD_COST = 100_000.0


def assignment(
    takes: Sequence[Sequence[int]],
    capacities: Sequence[int],
    earns: Sequence[Sequence[float]],
) -> Network:
    """Return a network in which base i takes job j for ``earns[i][j]``, up to its capacity.

    What a job pays is the most it earns anywhere; the rest is the ferry cost.
    """
    jobs = range(len(takes[0]))
    names = [f"Base {number}" for number in range(1, len(capacities) + 1)]
    most = [max(row[job] for row in earns) for job in jobs]
    bases = {
        name: _knapsack(name, own, capacity)
        for name, own, capacity in zip(names, takes, capacities, strict=True)
    }
    enquiries = tuple(
        SharedEnquiry(
            Check(
                f"J{job}", f"X-{job}", TWIN.name, f"P{job}", Status.OPTION, FIRST_DAY, FIRST_DAY,
                price=float(most[job]),
            ),
            {name: float(most[job] - row[job]) for name, row in zip(names, earns, strict=True)},
        )
        for job in jobs
    )  # fmt: skip
    return Network(bases, enquiries)


def _knapsack(name: str, takes: Sequence[int], capacity: int) -> Base:
    skill = "Mechanic"
    return small_base(
        name=name,
        weeks=1,
        skills=(Skill(skill, 50.0, 0.0, 70.0, 0.0),),
        bays=tuple(
            Bay(f"B{job}", "North", BAY.max_span_m, BAY.max_length_m, BAY.max_tail_m, BAY.work)
            for job in range(len(takes))
        ),
        packages=tuple(
            Package(f"P{job}", (Stage("all", "maintenance", 1, {skill: float(hours)}),))
            for job, hours in enumerate(takes)
        ),
        checks=(),
        crews=(Crew("Red", (skill,), capacity, "Once", FIRST_DAY),),
        patterns=(Pattern("Once", ("Day", *([None] * 6))),),
        shifts=(Shift("Day", time(6), 1.0),),
        overload_cost=OVERLOAD_COST,
        longest_delay_days=0,
    )
