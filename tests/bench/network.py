"""Measure bases planned together: ``python -m tests.bench.network --seeds 1 --seconds 1800``.

Five invented bases of 10 bays, 250 checks in all, of which 30 are asked of all of them. Prints
cost, proven bound and gap, days past ``Latest in`` with their proven least, how many enquiries are
taken, rounds, time, what ended it, and the most memory that all processes held. ``--trace`` prints
every change of cost or bound as it comes.
"""

import argparse
import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Thread

from capacity.network.rounds import plan_network
from capacity.network.values import NetworkPlanned
from capacity.plans.outcome import Progress
from capacity.settings import Settings
from tests.bench.invented_network import invented_network
from tests.bench.memory import tree_gib

SECONDS_BETWEEN_LOOKS = 2.0
HEAD = (
    "| seed | cost | bound | proven gap | gap of turnover | days past (proven least) | taken "
    "| rounds | took | stopped by | peak memory |\n|---|---|---|---|---|---|---|---|---|---|---|\n"
)


@contextmanager
def most_memory() -> Iterator[list[float]]:
    """Watch this process and its children; the list has the most GiB that they held."""
    most, over = [0.0], Event()

    def watch() -> None:
        while not over.wait(SECONDS_BETWEEN_LOOKS):
            most[0] = max(most[0], tree_gib(os.getpid()) or 0.0)

    thread = Thread(target=watch, daemon=True)
    thread.start()
    try:
        yield most
    finally:
        over.set()
        thread.join()


def main() -> None:
    """Measure and print a table in Markdown."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.network", description=__doc__)
    parser.add_argument("--seeds", type=int, nargs="+", default=[1])
    parser.add_argument("--seconds", type=float, default=1800.0)
    parser.add_argument("--gap", type=float, default=5.0, help="per cent at which it ends")
    parser.add_argument("--bases", type=int, default=5)
    parser.add_argument("--checks", type=int, default=250)
    parser.add_argument("--trace", action="store_true")
    options = parser.parse_args()
    sys.stdout.write(HEAD)
    for seed in options.seeds:
        network = invented_network(seed, options.bases, checks=options.checks)
        settings = Settings(seconds=options.seconds, seed=seed, gap=options.gap / 100)
        began = time.monotonic()
        hear = _traced() if options.trace else None
        with most_memory() as most:
            answer = plan_network(network, settings, hear)
        assert isinstance(answer, NetworkPlanned)
        turnover = sum(one.earned + one.spent for one in answer.bases)
        bound = answer.cost if answer.bound is None else answer.bound
        sys.stdout.write(
            f"| {seed} | {answer.cost:,.0f} | {answer.bound or 0:,.0f} "
            f"| {100 * (answer.gap or 0):.2f} % | {100 * (answer.cost - bound) / turnover:.2f} % "
            f"| {answer.days_past} ({answer.days_bound}) "
            f"| {len(answer.taken)} of {len(network.enquiries)} | {answer.rounds} "
            f"| {time.monotonic() - began:.0f} s | {answer.stopped_by} | {most[0]:.2f} GiB |\n"
        )
        sys.stdout.flush()


def _traced() -> Callable[[Progress], None]:
    last: list[tuple[float, float | None]] = [(0.0, None)]

    def hear(progress: Progress) -> None:
        now = round(progress.money), progress.bound
        if now != last[0]:
            last[0] = now
            bound = "none" if progress.bound is None else f"{progress.bound:,.0f}"
            sys.stderr.write(
                f"{progress.seconds:7.1f} s cost {progress.money:,.0f} bound {bound} "
                f"gap {100 * (progress.gap or 0):.2f} % days {progress.days_past} "
                f"by {progress.source}\n"
            )

    return hear


if __name__ == "__main__":
    main()
