"""What many scenarios of a network of bases take on a cluster: simulated, not measured.

``python -m tests.bench.simulated_cluster FILE [--base quarter] [--scenarios 1000] [--bases 10]``
takes what ``tests.bench.scenarios --keep FILE`` measured and draws from it, with a seed, how long
each scenario of each base takes. Workers begin when they have started, take the next scenario as
soon as they are free, are lost at a given rate, and what they worked on is begun again. One process
hands the scenarios over, one after the other. A worker is what it was where it was measured: one
core, and a machine whose memory nobody else uses.
"""

import argparse
import heapq
import json
import sys
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from pathlib import Path
from random import Random
from statistics import mean

SECONDS_AN_HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class Cluster:
    """``start`` are seconds that a worker takes to start, ``hand_over`` those of each job.

    ``lost_an_hour`` is how often a worker at work is lost, on average; it starts anew.
    """

    workers: int
    start: float = 0.0
    hand_over: float = 0.0
    lost_an_hour: float = 0.0


@dataclass(frozen=True, slots=True)
class Simulated:
    """Seconds until all is done, how many jobs were begun, and seconds of work, lost work too."""

    seconds: float
    begun: int
    worked: float
    lost: float


def simulated(jobs: Sequence[float], cluster: Cluster, random: Random) -> Simulated:
    """Return how jobs of so many seconds go, handed in this order to whichever worker is free.

    How long a worker lasts has no memory, so it is drawn anew with each job.
    """
    rate = cluster.lost_an_hour / SECONDS_AN_HOUR
    waiting = deque(jobs)
    free = [cluster.start] * cluster.workers  # when each worker is free; a heap, all being equal
    handing_over, last = 0.0, 0.0
    begun, worked, lost = 0, 0.0, 0.0
    coming_back: list[tuple[float, float]] = []  # lost jobs, with when that is known
    while waiting or coming_back:
        now = heapq.heappop(free)
        if not waiting and coming_back[0][0] > now:
            now = coming_back[0][0]
        while coming_back and coming_back[0][0] <= now:
            waiting.appendleft(heapq.heappop(coming_back)[1])
        handing_over = max(now, handing_over) + cluster.hand_over
        job = waiting.popleft()
        begun += 1
        lasts = random.expovariate(rate) if rate else inf
        if lasts < job:
            lost += lasts
            heapq.heappush(coming_back, (handing_over + lasts, job))
            heapq.heappush(free, handing_over + lasts + cluster.start)
        else:
            worked += job
            last = max(last, handing_over + job)
            heapq.heappush(free, handing_over + job)
    return Simulated(last, begun, worked, lost)


@dataclass(frozen=True, slots=True)
class Measured:
    """Seconds of scenarios as they were measured, of a worker's start, and of handing over."""

    scenarios: tuple[float, ...]
    start: float
    hand_over: float


def measured_in(file: Path, base: str, run: str) -> Measured:
    """Return what was measured of a base in a run whose workers had a core each."""
    told = json.loads(file.read_text(encoding="utf-8"))[base]
    traces = [trace for trace in told[run]["traces"] if trace["ended"] is not None]
    return Measured(
        tuple(trace["ended"] - trace["began"] for trace in traces),
        told["start"] + told[run]["to the first"],
        told["seconds a task"],
    )


def told(measured: Measured, workers: int, jobs: int, lost: float, seeds: Sequence[int]) -> str:
    """Return in a line what so many jobs take on so many workers, over some draws."""
    cluster = Cluster(workers, measured.start, measured.hand_over, lost)
    found = []
    for seed in seeds:
        random = Random(seed)
        drawn = random.choices(measured.scenarios, k=jobs)
        least = max(sum(drawn) / workers, max(drawn))
        found.append((simulated(drawn, cluster, random), least))
    seconds = sorted(one.seconds for one, _ in found)
    used = mean(one.worked / (workers * one.seconds) for one, _ in found)
    return (
        f"{workers} workers, each lost {lost:g} times an hour: {_minutes(mean(seconds))} on "
        f"average ({_minutes(seconds[0])} to {_minutes(seconds[-1])}), at least "
        f"{_minutes(mean(least for _, least in found))}; workers busy {used:.0%}; begun again "
        f"{mean(one.begun for one, _ in found) - jobs:.0f}, which lost "
        f"{_minutes(mean(one.lost for one, _ in found))} of work"
    )


def _minutes(seconds: float) -> str:
    return f"{seconds / 60:.1f} min"


def main() -> None:
    """Print what it takes, for each number of workers and each rate of losses."""
    parser = argparse.ArgumentParser("simulated_cluster", description=__doc__)
    parser.add_argument("file", type=Path, help="what tests.bench.scenarios kept")
    parser.add_argument("--base", default="small")
    parser.add_argument("--run", default="dask", help="a run whose workers had a core each")
    parser.add_argument("--scenarios", type=int, default=1000)
    parser.add_argument("--bases", type=int, default=10)
    parser.add_argument("--workers", type=int, nargs="+", default=[10, 50, 100, 200])
    parser.add_argument("--lost-an-hour", type=float, nargs="+", default=[0.0, 0.1, 1.0])
    parser.add_argument("--seeds", type=int, nargs="+", default=[1, 2, 3, 4, 5])
    given = parser.parse_args()
    measured = measured_in(given.file, given.base, given.run)
    jobs = given.scenarios * given.bases
    _say(
        f"{given.scenarios} scenarios of {given.bases} bases, {jobs} jobs like those of "
        f"'{given.base}': {mean(measured.scenarios):.2f} s on average "
        f"({min(measured.scenarios):.2f} to {max(measured.scenarios):.2f} s), a worker starts in "
        f"{measured.start:.1f} s, handing over takes {measured.hand_over * 1000:.1f} ms"
    )
    for lost in given.lost_an_hour:
        for workers in given.workers:
            _say(f"  {told(measured, workers, jobs, lost, given.seeds)}")


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")


if __name__ == "__main__":
    main()
