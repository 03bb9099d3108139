"""Scenarios planned in a batch: what each comes to, on which process, and what is lost of it."""

import os
import signal
import time
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import replace
from itertools import count
from pathlib import Path
from threading import Event

import pytest

import capacity
from capacity.cli import main
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.reports.answers import report
from capacity.scenarios.cluster import cluster
from capacity.scenarios.one_scenario import answer_of, standing_answer
from capacity.scenarios.running import MOST_TIMES, answers, processes
from capacity.scenarios.values import Ended, ScenarioAnswer, Standing, Task
from capacity.store.store import PlanStore
from tests.inputs.books import valid, write_workbook
from tests.scenarios.test_scenario_sheet import HEADINGS

SECONDS = 2.0


@pytest.fixture(scope="module")
def standing(tmp_path_factory: pytest.TempPathFactory) -> Standing:
    folder = tmp_path_factory.mktemp("scenarios")
    path = write_workbook(valid(), folder / "base.xlsx")
    base = capacity.read(path)
    outcome = capacity.plan(base, capacity.Settings(seconds=SECONDS))
    report(base, outcome, folder / "plan.json", ())
    text = (folder / "plan.json").read_text(encoding="utf-8")
    return Standing("base.xlsx", path.read_bytes(), text)


def task(name: str, *edits: SheetEdit) -> Task:
    return Task(name, edits, (f"what {name} changes",), SECONDS, 1)


def test_a_scenario_is_the_plan_of_the_changed_base(standing: Standing, tmp_path: Path) -> None:
    packages = valid()["Packages"]
    findings = packages[0].index("Findings %")
    rows = range(2, len(packages) + 1)
    edit = SheetEdit("Packages", {n: {"Findings %": packages[n - 1][findings] + 40} for n in rows})
    answer = answer_of(task("more findings", edit), standing)
    path = tmp_path / "base.xlsx"
    path.write_bytes(standing.workbook)
    base = capacity.read(path)
    grown = tuple(
        replace(one, stages=tuple(replace(s, findings=s.findings + 0.4) for s in one.stages))
        for one in base.packages
    )
    outcome = capacity.plan(base.replace(packages=grown), capacity.Settings(seconds=SECONDS))
    assert answer.ended is Ended.PLANNED
    assert answer.figures.bound == pytest.approx(outcome.bound)
    assert answer.figures.cost == pytest.approx(outcome.audit.goals.money)
    as_it_is = standing_answer(standing)
    assert answer.figures.cost > as_it_is.figures.cost
    nothing = answer_of(task("nothing"), standing)
    assert nothing.figures.cost == pytest.approx(as_it_is.figures.cost)
    assert nothing.moved == ()


def test_what_cannot_be_planned_is_an_answer(standing: Standing) -> None:
    answer = answer_of(task("wrong", SheetEdit("Crews", {2: {"Heads": -1}})), standing)
    assert answer.ended is Ended.WRONG
    assert "Heads is -1" in answer.said[0]
    assert ScenarioAnswer.from_json(answer.as_json()) == answer


def test_an_answer_is_found_again_by_all_that_it_depends_on(standing: Standing) -> None:
    one = task("one", SheetEdit("Crews", {2: {"Heads": 3}}))
    others = [
        (one, replace(standing, workbook=standing.workbook + b" ")),
        (one, replace(standing, plan_file=standing.plan_file + " ")),
        (replace(one, seconds=3.0), standing),
        (replace(one, seed=2), standing),
        (task("one", SheetEdit("Crews", {2: {"Heads": 4}})), standing),
        (task("one", SheetEdit("Crews", {3: {"Heads": 3}})), standing),
    ]
    keys = [one.key(standing, "1"), one.key(standing, "2")]
    keys += [other.key(of, "1") for other, of in others]
    assert len(set(keys)) == len(keys)
    assert replace(one, name="another name").key(standing, "1") == keys[0]


def quick(one: Task, standing: Standing) -> ScenarioAnswer:
    return ScenarioAnswer(one.name, one.words, Ended.PLANNED)


def lost_once(one: Task, standing: Standing) -> ScenarioAnswer:
    """Kill the process of the third task when it is first tried."""
    mark = Path(standing.name) / one.name
    if one.name == "t3" and not mark.exists():
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    time.sleep(0.05)
    return quick(one, standing)


def always_lost(one: Task, standing: Standing) -> ScenarioAnswer:
    if one.name == "t3":
        os.kill(os.getpid(), signal.SIGKILL)
    return quick(one, standing)


@pytest.mark.long
def test_the_work_of_a_killed_process_is_done_again(tmp_path: Path) -> None:
    tasks = [task(f"t{n}") for n in range(8)]
    folder = Standing(str(tmp_path), b"", "")
    found = list(answers(tasks, folder, 2, work=lost_once))
    assert sorted(answer.name for answer in found) == [f"t{n}" for n in range(8)]
    assert {answer.ended for answer in found} == {Ended.PLANNED}


@pytest.mark.long
def test_what_always_loses_its_process_fails_alone(tmp_path: Path) -> None:
    tasks = [task(f"t{n}") for n in range(6)]
    found = {a.name: a for a in answers(tasks, Standing("", b"", ""), 2, work=always_lost)}
    assert len(found) == 6
    assert found.pop("t3").said == (f"its process was lost {MOST_TIMES} times",)
    assert {answer.ended for answer in found.values()} == {Ended.PLANNED}


def test_a_wish_to_stop_is_heeded_and_answers_so_far_are_kept() -> None:
    stop, began = Event(), count()

    def work(one: Task, standing: Standing) -> ScenarioAnswer:
        next(began)
        return quick(one, standing)

    found = []
    tasks = [task(f"t{n}") for n in range(100)]
    for answer in answers(tasks, Standing("", b"", ""), 1, stop, ThreadPoolExecutor, work):
        found.append(answer)
        if len(found) == 3:
            stop.set()
    assert 3 <= len(found) <= 4
    assert next(began) <= 5


@pytest.mark.long
def test_a_cluster_gives_the_same_answers_and_does_lost_work_again(standing: Standing) -> None:
    """Dask on this machine: two processes, one of which is killed while it works."""
    distributed = pytest.importorskip("distributed")
    tasks = [task("more", SheetEdit("Crews", {2: {"Heads": 9}})), task("nothing")]
    alone = {one.name: answer_of(one, standing).figures for one in tasks}
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, host="127.0.0.1"
    ) as machines:
        make = cluster(machines.scheduler_address)
        killed = Event()

        def make_and_kill(workers: int) -> Executor:
            executor = make(workers)
            if not killed.is_set():
                killed.set()
                worker = next(iter(machines.workers.values()))
                os.kill(worker.process.pid, signal.SIGKILL)
            return executor

        found = {a.name: a for a in answers(tasks, standing, 2, make=make_and_kill)}
    assert {name: answer.figures.cost for name, answer in found.items()} == {
        name: pytest.approx(figures.cost) for name, figures in alone.items()
    }


@pytest.mark.long
def test_the_command_keeps_answers_in_the_store_and_goes_on_from_them(
    standing: Standing, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    workbook, plan = tmp_path / "base.xlsx", tmp_path / "plan.json"
    workbook.write_bytes(standing.workbook)
    plan.write_text(standing.plan_file, encoding="utf-8")
    rows = [
        ["more", "Crews", "red", "Heads", "add", 2],
        ["less", "Crews", "red", "Heads", "add", -1],
    ]
    path = write_workbook({"Scenarios": [HEADINGS, *rows]}, tmp_path / "scenarios.xlsx")
    named, out = str(tmp_path / "plans.sqlite"), tmp_path / "answers.xlsx"
    line = ["scenarios", workbook, path, "--plan", plan, "--seconds", SECONDS, "--store", named]

    def run(*more: object) -> str:
        with pytest.raises(SystemExit) as ended:
            main([str(one) for one in (*line, *more)])
        assert ended.value.code == 0
        said = capsys.readouterr()
        return said.out + said.err

    first = run("--out", out)
    assert out.is_file()
    assert "2 scenarios of Northfield" in first
    assert "2 of 2 are answered in the store already." in run()
    with PlanStore(named, "somebody") as store:
        assert store.plans() == ()


def test_processes_hear_no_interrupt_themselves() -> None:
    with processes(1) as executor:
        assert executor.submit(signal.getsignal, signal.SIGINT).result() == signal.SIG_IGN
