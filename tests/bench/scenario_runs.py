"""One batch of scenarios, as the command plans it, with a worker killed in the middle if wanted."""

import os
import signal
import tempfile
import time
from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from threading import Timer
from typing import TYPE_CHECKING

from capacity.scenarios.cluster import cluster
from capacity.scenarios.kept_answers import keeping, kept_answers
from capacity.scenarios.running import MakeExecutor, answers, processes
from capacity.scenarios.values import ScenarioAnswer, Standing, Task
from capacity.store.store import PlanStore
from tests.bench.traced_scenario import Trace, nothing, traced, traces_in

if TYPE_CHECKING:
    from collections.abc import Iterator

TASKS_OF_NOTHING = 300
IN_FLIGHT = 100
SECONDS_INTO_WORK = 0.7
"""So long after an answer all workers are at work again, if scenarios take longer than that."""


@dataclass(frozen=True, slots=True)
class Batch:
    """What is planned: the same scenarios for every run."""

    standing: Standing
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True)
class Run:
    """What a batch took, in seconds: in all, and once more with all answers in the store."""

    seconds: float
    again: float
    began: float
    answers: tuple[ScenarioAnswer, ...]
    traces: tuple[Trace, ...]
    killed: float | None = None

    @property
    def whole(self) -> list[Trace]:
        """The beginnings that came to an end."""
        return [trace for trace in self.traces if trace.ended is not None]

    @property
    def searches(self) -> float:
        """The sum of the searches, in seconds."""
        return sum(trace.search for trace in self.whole)

    @property
    def processor(self) -> float:
        """Seconds of all cores that the scenarios took."""
        return sum(trace.processor for trace in self.whole)

    @property
    def in_scenarios(self) -> float:
        """The sum of what the scenarios took, reading and audits included, in seconds."""
        return sum(trace.ended - trace.began for trace in self.whole if trace.ended is not None)

    @property
    def to_the_first(self) -> float:
        """Seconds until the first scenario began."""
        return self.traces[0].began - self.began

    @property
    def lost(self) -> float:
        """Seconds of scenarios that a killed worker took with it, of those lost with it too."""
        return sum(
            (self.killed or trace.began) - trace.began
            for trace in self.traces
            if trace.ended is None
        )

    @property
    def figures(self) -> dict[str, tuple[object, ...]]:
        """What each scenario came to, to be compared: days past, cost to the cent."""
        return {
            a.name: (a.ended, a.figures and (a.figures.days_past, round(a.figures.cost, 2)))
            for a in self.answers
        }

    @property
    def proven(self) -> int:
        """How many answers nobody can better by more than a cent."""
        found = (a.figures for a in self.answers)
        return sum(f is not None and f.bound is not None and f.cost - f.bound < 0.01 for f in found)


def run(
    batch: Batch,
    workers: int,
    *,
    has_own_core: bool = False,
    make: MakeExecutor = processes,
    kill: Callable[[Executor], None] | None = None,
) -> Run:
    """Plan a batch; ``kill`` gets the executor when all are at work after half of the answers."""
    made: list[Executor] = []
    killed = None

    def making(number: int) -> Executor:
        made.append(make(number))
        return made[-1]

    def end_one() -> None:
        nonlocal killed
        killed = time.monotonic()
        if kill is not None:
            kill(made[-1])

    with tempfile.TemporaryDirectory() as folder:
        named = str(Path(folder) / "plans.sqlite")
        work = partial(traced, folder, has_own_core)
        began = time.monotonic()
        with PlanStore(named, "bench") as store:
            found, left = kept_answers(batch.tasks, batch.standing, store)
            coming = answers(left, batch.standing, workers, None, making, work)
            for answer in keeping(coming, left, batch.standing, store):
                found.append(answer)
                if kill is not None and len(found) == len(batch.tasks) // 2:
                    Timer(SECONDS_INTO_WORK, end_one).start()
        ended = time.monotonic()
        with PlanStore(named, "bench") as store:
            kept, _ = kept_answers(batch.tasks, batch.standing, store)
        again = time.monotonic() - ended
        if len(kept) != len(batch.tasks):
            raise SystemExit(f"{len(kept)} of {len(batch.tasks)} answers are in the store")
        return Run(
            ended - began, again, began, tuple(found), tuple(traces_in(Path(folder))), killed
        )


def kill_a_process(executor: Executor) -> None:
    """Kill one of the processes of a pool, all of which are at work."""
    running = executor._processes  # type: ignore[attr-defined]
    os.kill(next(iter(running)), signal.SIGKILL)


@contextmanager
def local_cluster(workers: int) -> "Iterator[tuple[MakeExecutor, Callable[[Executor], None]]]":
    """Yield what makes an executor of a Dask cluster on this machine, and what kills a worker."""
    from distributed import LocalCluster  # an extra

    with LocalCluster(
        n_workers=workers, threads_per_worker=1, dashboard_address=None, host="127.0.0.1"
    ) as machines:

        def kill(executor: Executor) -> None:
            os.kill(next(iter(machines.workers.values())).process.pid, signal.SIGKILL)

        yield cluster(machines.scheduler_address), kill


def seconds_a_task_of_nothing(batch: Batch, make: MakeExecutor) -> float:
    """Return what handing over, taking back and keeping take a scenario, many under way at once.

    They are the work of one process, which all workers wait for.
    """
    tasks: Sequence[Task] = [
        Task(f"nothing {number}", (), (), 1.0, number) for number in range(TASKS_OF_NOTHING)
    ]
    with (
        tempfile.TemporaryDirectory() as folder,
        PlanStore(str(Path(folder) / "plans.sqlite"), "bench") as store,
    ):
        kept_answers(tasks[:1], batch.standing, store)  # the store is made meanwhile
        coming = answers(tasks, batch.standing, IN_FLIGHT, None, make, nothing)
        keep = keeping(coming, tasks, batch.standing, store)
        next(keep)
        began = time.monotonic()
        for _ in keep:
            pass
        return (time.monotonic() - began) / (len(tasks) - 1)
