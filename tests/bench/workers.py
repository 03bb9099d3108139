"""How cost falls with more processes a search, measured where there are few cores.

``python -m tests.bench.workers --work lanes hangar --seeds 1 3 --workers 2 3 4 --seconds 60``: with
N processes on C cores a search of S seconds has N / C times the clock, so that each process has as
much of a core as it would have for S seconds on N cores. Every line is printed as soon as it is
measured.
"""

import argparse
import json
import os
import sys
from dataclasses import asdict, dataclass

from capacity.cores import cores_at_hand
from capacity.plans.outcome import relative_gap
from capacity.settings import Settings
from tests.bench.measuring import watched
from tests.bench.our_plan import planned_with
from tests.bench.result import Found
from tests.bench.works import WORKS

HEADINGS = (
    "work",
    "seed",
    "workers",
    "clock",
    "days past (proven least)",
    "cost",
    "bound",
    "proven gap",
    "stopped by",
    "peak memory",
    "load",
)


@dataclass(frozen=True)
class Run:
    """One search: so many workers, ``seconds`` of the clock."""

    work: str
    seed: int
    workers: int
    seconds: float

    @property
    def command(self) -> list[str]:
        """The command that measures it in a process of its own."""
        options = (self.work, str(self.seed), str(self.workers), str(self.seconds))
        return [sys.executable, "-m", "tests.bench.workers", "--one", *options]


def main() -> None:
    """Measure every run, or the one that a process was started for."""
    if sys.argv[1:2] == ["--one"]:
        work, seed, workers, seconds = sys.argv[2:]
        base = WORKS[work].base(int(seed))
        found = planned_with(
            base, Settings(seconds=float(seconds), seed=int(seed), workers=int(workers))
        )
        sys.stdout.write(json.dumps(asdict(found)))
        return
    options = _parser().parse_args()
    _say(row(HEADINGS))
    _say(row(["---"] * len(HEADINGS)))
    for run in runs(options.work, options.seeds, options.workers, options.seconds, cores_at_hand()):
        load = f"{os.getloadavg()[0]:.1f}"
        found, failed, peak = watched(run.command)
        if found is None:
            _say(f"{run}: {failed}")
            continue
        _say(row([*line_of(run, found, peak), load]))


def runs(
    works: list[str], seeds: list[int], workers: list[int], seconds: float, cores: int
) -> list[Run]:
    """Return all runs, seed by seed, each process of each with ``seconds`` of a core."""
    return [
        Run(work, seed, many, seconds * max(1.0, many / cores))
        for work in works
        for seed in seeds
        for many in workers
    ]


def line_of(run: Run, found: Found, peak: float | None) -> list[str]:
    """Return what is told of a run but the load."""
    gap = relative_gap(found.money, found.bound)
    return [
        run.work,
        str(run.seed),
        str(run.workers),
        f"{run.seconds:g} s",
        f"{found.days_past} ({found.days_bound})",
        f"{found.money:,.0f}",
        "-" if found.bound is None else f"{found.bound:,.0f}",
        "-" if gap is None else f"{100 * gap:.2f} %",
        found.stopped_by,
        "-" if peak is None else f"{peak:.2f} GiB",
    ]


def row(cells: list[str] | tuple[str, ...]) -> str:
    """Return a row of a table."""
    return f"| {' | '.join(cells)} |"


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.workers", description=__doc__)
    ours = [name for name, work in WORKS.items() if work.against is None]
    parser.add_argument("--work", nargs="+", choices=ours, default=["lanes", "hangar"])
    parser.add_argument("--seeds", type=int, nargs="+", default=[1, 3])
    parser.add_argument("--workers", type=int, nargs="+", default=[2, 3, 4])
    parser.add_argument("--seconds", type=float, default=60.0, help="for each process, of a core")
    return parser


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
