"""A scenario as a worker plans it, with what it took written down beside.

Times are of the clock that all processes of a machine share, so that a batch can be taken apart.
"""

import fcntl
import json
import os
import resource
import time
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import IO
from unittest import mock

from capacity.scenarios import one_scenario
from capacity.scenarios.values import Ended, ScenarioAnswer, Standing, Task


@dataclass(frozen=True, slots=True)
class Trace:
    """One beginning of a scenario in a process, in seconds.

    ``ended`` is None where its process was lost. ``search`` is the time of the search alone,
    ``processor`` what the process and its children took of the cores in all.
    """

    name: str
    process: int
    began: float
    ended: float | None = None
    search: float = 0.0
    processor: float = 0.0


def traced(folder: str, has_own_core: bool, task: Task, standing: Standing) -> ScenarioAnswer:
    """Plan a scenario, on a core that is this process's alone if wanted."""
    if has_own_core:
        _keep_to_one_core(Path(folder))
    began, processor = time.monotonic(), _processor_seconds()
    _note(folder, Trace(task.name, os.getpid(), began))
    plan, searched = one_scenario.make_plan, 0.0

    def timed(*given: object, **named: object) -> object:
        nonlocal searched
        began = time.monotonic()
        try:
            return plan(*given, **named)
        finally:
            searched += time.monotonic() - began

    with mock.patch.object(one_scenario, "make_plan", timed):
        answer = one_scenario.answer_of(task, standing)
    ended = time.monotonic()
    processor = _processor_seconds() - processor
    _note(folder, Trace(task.name, os.getpid(), began, ended, searched, processor))
    return answer


def nothing(task: Task, standing: Standing) -> ScenarioAnswer:
    """Do nothing: what is left is what handing over and keeping takes."""
    return ScenarioAnswer(task.name, task.words, Ended.OUT_OF_TIME)


def traces_in(folder: Path) -> list[Trace]:
    """Return what was written down, in the order in which it began."""
    found: dict[tuple[int, float], Trace] = {}
    for path in folder.glob("*.jsonl"):
        for line in path.read_text(encoding="utf-8").splitlines():
            trace = Trace(**json.loads(line))
            found[trace.process, trace.began] = trace  # the line of its end comes later
    return sorted(found.values(), key=lambda trace: trace.began)


def _note(folder: str, trace: Trace) -> None:
    with Path(folder, f"{trace.process}.jsonl").open("a", encoding="utf-8") as file:
        file.write(json.dumps(asdict(trace)) + "\n")


def _processor_seconds() -> float:
    used = (resource.getrusage(of) for of in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in used)


_held: list[tuple[int, IO[str]]] = []


def _keep_to_one_core(folder: Path) -> None:
    """Take a core that no other process has taken; the system gives it back at this one's end."""
    cores = sorted(os.sched_getaffinity(0)) if not _held else []
    for core in cores:
        file = (folder / f"core {core}").open("w", encoding="utf-8")
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            file.close()
            continue
        _held.append((core, file))
        break
    if _held:  # of this thread, and of all that it starts
        os.sched_setaffinity(0, {_held[0][0]})
