"""Job shops with a published optimum: a job is a check, a machine a pool of one piece.

The stages of a check follow one another, and each holds its machine as long as it lasts: all
can stand in as many days as the optimum, and not in one less. The same once more with a machine
as a crew of one, of whom each stage needs all. Machines to choose from are not tried: a stage
of a package names its equipment and takes the same days wherever it lies.
"""

import json
from collections.abc import Sequence
from pathlib import Path

import pytest

from capacity.crews.problem import CrewProblem
from capacity.crews.tasks_of_plan import within_float
from tests.crews.problems import can_be_met, daily, problem, spans, task

DATA = Path(__file__).parent / "data" / "job_shops.json"
# The example in the guide of OR-Tools to job shops (seen); 11 from memory, proven here.
THREE_JOBS = (
    [[0, 1, 2], [0, 2, 1], [1, 2]],
    [[3, 2, 2], [2, 1, 4], [4, 3]],
)

Shop = tuple[Sequence[Sequence[int]], Sequence[Sequence[int]]]


def ft06() -> Shop:
    """Return ft06 of Muth and Thompson (1963); its optimum of 55 stands in the file."""
    found = json.loads(DATA.read_text(encoding="utf-8"))["ft06"]
    assert found["optimum"] == 55
    return found["machines"], found["days"]


def job_shop(shop: Shop, horizon: int, by_crews: bool = False) -> CrewProblem:
    """Return the problem of doing all jobs in so many days, machines as pools or as people."""
    tasks = []
    machines, days = shop
    for job, (route, lengths) in enumerate(zip(machines, days, strict=True)):
        for step, (machine, length) in enumerate(zip(route, lengths, strict=True)):
            tasks.append(
                task(
                    f"Step {step}",
                    spans(horizon, length),
                    {f"M{machine}": 1} if by_crews else {},
                    (len(tasks) - 1,) if step else (),
                    check=f"Job {job}",
                    equipment=frozenset() if by_crews else frozenset({f"M{machine}"}),
                    max_heads=1,
                )
            )
    names = sorted({f"M{machine}" for route in machines for machine in route})
    crews = daily(dict.fromkeys(names, 1), horizon) if by_crews else ()
    pools = {} if by_crews else dict.fromkeys(names, (1,) * horizon)
    return problem(horizon, within_float(tasks), crews, free=pools)


@pytest.mark.parametrize("by_crews", [False, True], ids=["pools", "people"])
@pytest.mark.parametrize(("shop", "optimum"), [(THREE_JOBS, 11), (ft06(), 55)], ids=["3x3", "ft06"])
def test_all_jobs_are_done_in_the_optimum_and_not_in_a_day_less(
    shop: Shop, optimum: int, by_crews: bool
) -> None:
    assert can_be_met(job_shop(shop, optimum, by_crews))
    assert not can_be_met(job_shop(shop, optimum - 1, by_crews))


def test_a_machine_that_is_away_for_a_day_costs_days() -> None:
    """The three jobs use machine 1 for 10 of the 11 days, the first of them without a gap."""
    whole = job_shop(THREE_JOBS, 11)
    pools = dict(whole.free or {})
    busy = sum(
        length
        for route, lengths in zip(*THREE_JOBS, strict=True)
        for machine, length in zip(route, lengths, strict=True)
        if machine == 1
    )
    assert busy == 10
    away = {**pools, "M1": (0, 0, *pools["M1"][2:])}
    assert not can_be_met(problem(11, whole.tasks, (), free=away))


def test_with_machines_enough_the_longest_job_decides() -> None:
    """Three steps of 7 days in all, none of which can move: three pieces do, two do not."""
    longest = max(sum(lengths) for lengths in THREE_JOBS[1])
    assert longest == 7
    jobs = job_shop(THREE_JOBS, longest)
    for pieces, enough in ((3, True), (2, False), (1, False)):
        pools = {name: (pieces,) * longest for name in jobs.free or {}}
        assert can_be_met(problem(longest, jobs.tasks, (), free=pools)) is enough
