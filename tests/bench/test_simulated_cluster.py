"""The simulated cluster against queues whose answers are known."""

from itertools import product
from math import ceil, exp, sqrt
from random import Random
from statistics import mean, stdev

import pytest

from tests.bench.simulated_cluster import Cluster, simulated


@pytest.mark.parametrize(("jobs", "workers"), [(1, 1), (7, 3), (9, 3), (2, 5), (1000, 64)])
def test_equal_jobs_take_as_many_rounds_as_they_fill(jobs: int, workers: int) -> None:
    found = simulated([2.5] * jobs, Cluster(workers, start=4.0), Random(1))
    assert found.seconds == pytest.approx(4.0 + ceil(jobs / workers) * 2.5)
    assert (found.begun, found.lost) == (jobs, 0.0)


def test_where_handing_over_is_slow_all_wait_for_it() -> None:
    """With more workers than jobs at a time the last of n begins after n times handing over."""
    found = simulated([3.0] * 50, Cluster(40, hand_over=0.5), Random(1))
    assert found.seconds == pytest.approx(50 * 0.5 + 3.0)


def test_no_order_is_worse_than_grahams_bound() -> None:
    """Graham, Bounds on Multiprocessing Timing Anomalies (1969): 2 - 1/m times the best, at most.

    From memory. The best is found by trying every way to share out few jobs.
    """
    worst = 0.0
    for seed in range(40):
        random = Random(seed)
        workers = random.randint(2, 3)
        jobs = [random.choice((1, 1, 2, 3, 5, 8)) * 1.0 for _ in range(7)]
        best = min(
            max(
                sum(job for job, at in zip(jobs, shared, strict=True) if at == worker)
                for worker in range(workers)
            )
            for shared in product(range(workers), repeat=len(jobs))
        )
        found = simulated(jobs, Cluster(workers), random).seconds
        assert best <= found + 1e-9
        assert found <= (2 - 1 / workers) * best + 1e-9
        worst = max(worst, found / best)
    assert worst > 1.1, "the order matters in some of them"


def test_grahams_worst_case_is_met() -> None:
    """M (m - 1) jobs of 1 and one of m: list scheduling takes 2 m - 1, the best order m."""
    assert simulated([1.0] * 12 + [4.0], Cluster(4), Random(1)).seconds == 7.0
    assert simulated([4.0] + [1.0] * 12, Cluster(4), Random(1)).seconds == 4.0


def test_a_job_that_is_lost_takes_what_renewal_says() -> None:
    """One job of p on a worker lost at rate r, starting anew in s: (e^(r p) - 1) (1 / r + s).

    By renewal: each try ends in a loss with 1 - e^(-r p), and nothing of it is kept.
    """
    job, start, an_hour = 600.0, 30.0, 6.0
    rate = an_hour / 3600
    cluster = Cluster(1, start, lost_an_hour=an_hour)
    took = [simulated([job], cluster, Random(seed)).seconds - start for seed in range(3000)]
    known = (exp(rate * job) - 1) * (1 / rate + start)
    assert mean(took) == pytest.approx(known, abs=4 * stdev(took) / sqrt(len(took)))


def test_what_is_lost_is_begun_again_by_others_and_all_is_done() -> None:
    jobs = [Random(2).uniform(5, 50) for _ in range(300)]
    found = simulated(jobs, Cluster(10, 3.0, 0.01, lost_an_hour=30), Random(2))
    assert found.worked == pytest.approx(sum(jobs))
    assert found.begun > 300
    assert found.lost > 0
    assert found.seconds > sum(jobs) / 10
