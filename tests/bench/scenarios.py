"""What a batch of scenarios takes: efficiency, overhead, a killed worker, the store.

``python -m tests.bench.scenarios [--base tiny small quarter] [--seconds 10] [--keep FILE]`` plans
the same scenarios one after the other and by two workers, processes and Dask's, and prints what
each batch took. ``--keep`` writes what was measured to a file, for
``tests.bench.simulated_cluster``.

Efficiency is the serial time by the number of workers times theirs. It is told twice: with a core
for each worker, where twice the workers have twice the cores, and with both cores for all of them.
A search is ended by its proof, or when its seconds of wall time are over: only where all are
proven can answers be the same, whoever had how much of a core.
"""

import argparse
import json
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

import capacity
from capacity.inputs.scenarios_workbook import read_scenarios
from capacity.reports.answers import report
from capacity.scenarios.values import Standing, Task
from tests.bench.scenario_questions import write_questions
from tests.bench.scenario_runs import (
    Batch,
    Run,
    kill_a_process,
    local_cluster,
    run,
    seconds_a_task_of_nothing,
)
from tests.inputs.books import write_workbook
from tests.questions.roll.weekly_books import weekly_book

SAMPLES = Path(__file__).parents[2] / "sample_inputs"
RUNS = ("one", "one core", "two", "two cores", "dask", "killed", "dask killed", "nothing")
WORKERS = 2
SEED, CHECKS, WEEKS = 3, 16, 16


def main() -> None:
    """Measure each base, print, and keep what was measured where that is wanted."""
    parser = argparse.ArgumentParser("scenarios", description=__doc__)
    parser.add_argument(
        "--base", nargs="+", choices=["tiny", "small", "quarter"], default=["small"]
    )
    parser.add_argument("--seconds", type=float, default=10.0, help="for each search at most")
    parser.add_argument("--runs", nargs="+", choices=RUNS, default=list(RUNS))
    parser.add_argument("--most", type=int, default=20, help="scenarios of a base")
    parser.add_argument("--keep", type=Path, help="a file for what was measured")
    given = parser.parse_args()
    measured = {}
    for name in given.base:
        with tempfile.TemporaryDirectory() as folder:
            batch = batch_of(name, Path(folder), given.seconds, given.most)
        _say(f"{name}: {len(batch.tasks)} scenarios, {given.seconds:g} s each at most")
        for measured[name] in measure(batch, given.runs):
            if given.keep:
                given.keep.write_text(json.dumps(measured), encoding="utf-8")


def batch_of(name: str, folder: Path, seconds: float, most: int) -> Batch:
    """Return the scenarios of an invented base, which is planned first."""
    path = folder / f"{name}.xlsx"
    if name == "small":
        book = weekly_book(SEED, checks=CHECKS, weeks=WEEKS, paint=False)
        del book["Shops"], book["Shop loops"]
        write_workbook(book, path)
    else:
        path.write_bytes((SAMPLES / path.name).read_bytes())
    base = capacity.read(path)
    outcome = capacity.plan(base, capacity.Settings(seconds=max(10.0, seconds)))
    report(base, outcome, folder / "plan.json", ())
    standing = Standing(
        path.name, path.read_bytes(), (folder / "plan.json").read_text(encoding="utf-8")
    )
    asked = read_scenarios(write_questions(base, folder / "scenarios.xlsx"), path)
    return Batch(standing, tuple(Task(s.name, s.edits, s.words, seconds, 1) for s in asked[:most]))


def measure(batch: Batch, wanted: list[str]) -> Iterator[dict[str, object]]:
    """Yield what has been measured so far after each of the wanted runs, having printed it."""
    found: dict[str, Run] = {}
    kept: dict[str, object] = {}

    def take(name: str, workers: int, one: Run) -> dict[str, object]:
        found[name] = one
        _tell(name, workers, one, found)
        traces = [asdict(trace) for trace in one.traces]
        kept[name] = {"seconds": one.seconds, "to the first": one.to_the_first, "traces": traces}
        return kept

    for name in ("one core", "two cores", "killed", "one", "two"):
        if name in wanted:
            workers = 1 if name.startswith("one") else WORKERS
            kill = kill_a_process if name == "killed" else None
            has_own_core = name not in ("one", "two")
            yield take(name, workers, run(batch, workers, has_own_core=has_own_core, kill=kill))
    if not {"dask", "dask killed", "nothing"} & set(wanted):
        return
    began = time.monotonic()
    with local_cluster(WORKERS) as (make, kill_a_worker):
        kept["start"] = time.monotonic() - began
        _say(f"  {WORKERS} workers of a cluster were there after {kept['start']:.1f} s")
        for name in ("dask", "nothing", "dask killed"):
            if name == "nothing" and name in wanted:
                each = kept["seconds a task"] = seconds_a_task_of_nothing(batch, make)
                _say(f"  handed over, taken back and kept: {each:.4f} s a scenario")
                yield kept
            elif name in wanted:
                kill = kill_a_worker if name == "dask killed" else None
                yield take(
                    name, WORKERS, run(batch, WORKERS, has_own_core=True, make=make, kill=kill)
                )


def _tell(name: str, workers: int, one: Run, found: dict[str, Run]) -> None:
    number = len(one.answers)
    spent = workers * one.seconds
    first = next(iter(found.values()))
    same = sum(one.figures[asked] == figures for asked, figures in first.figures.items())
    said = [
        f"{one.seconds:.1f} s",
        f"searches {one.searches:.1f} s",
        f"overhead a scenario {(spent - one.searches) / number:.2f} s, of which "
        f"{(one.in_scenarios - one.searches) / number:.2f} s reading and audits",
        f"first begun after {one.to_the_first:.2f} s",
        f"cores {one.processor / one.in_scenarios:.2f} a scenario",
        f"from the store {one.again:.2f} s",
        f"{one.proven} proven",
        f"{same} of {number} as in the first run",
    ]
    serial = found.get("one" if name == "two" else "one core")
    if workers > 1 and serial is not None:
        said.insert(1, f"efficiency {serial.seconds / spent:.0%}")
    if one.killed is not None:
        said.append(f"{one.lost:.1f} s of scenarios lost")
    _say(f"  {name}: {', '.join(said)}")


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
