"""Scenarios planned in a batch: what each comes to, on which process, and what is lost of it."""

import os
import signal
import time
from concurrent.futures import BrokenExecutor, Executor, Future, ThreadPoolExecutor
from dataclasses import replace
from functools import partial
from itertools import count
from pathlib import Path
from threading import Event

import pytest

import capacity
from capacity.cli import main
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.reports.answers import report
from capacity.scenarios.cluster import cluster, workers_of
from capacity.scenarios.kept_answers import keeping, kept_answers
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


def test_a_kept_answer_goes_by_the_name_that_is_asked_for(tmp_path: Path) -> None:
    empty = Standing("", b"", "")
    one, failed = task("one"), task("failed", SheetEdit("Crews", {2: {"Heads": 3}}))
    lost = ScenarioAnswer("failed", (), Ended.FAILED)
    with PlanStore(str(tmp_path / "plans.sqlite"), "somebody") as store:
        assert len(list(keeping([quick(one, empty), lost], [one, failed], empty, store))) == 2
        again = replace(one, name="other", words=("said otherwise",))
        found, left = kept_answers([again, failed], empty, store)
    assert [(a.name, a.words) for a in found] == [("other", ("said otherwise",))]
    assert left == [failed]


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


class BreaksWithT0(Executor):
    """Does all at once; as a pool of processes it breaks as a whole, here by the task t0."""

    def __init__(self, given: list[list[str]]) -> None:
        """Write what it is given into a list of its own."""
        self._given: list[str] = []
        given.append(self._given)

    def submit(self, work, one, standing):  # type: ignore[no-untyped-def, override]
        self._given.append(one.name)
        future: Future[ScenarioAnswer] = Future()
        if "t0" in self._given:
            future.set_exception(BrokenExecutor())
        else:
            future.set_result(work(one, standing))
        return future


def test_what_was_lost_goes_on_beside_others_and_only_the_last_time_alone() -> None:
    given: list[list[str]] = []
    tasks = [task(f"t{n}") for n in range(6)]
    empty = Standing("", b"", "")
    found = {
        a.name: a
        for a in answers(tasks, empty, 3, make=lambda workers: BreaksWithT0(given), work=quick)
    }
    assert given == [["t0", "t1", "t2"], ["t3", "t4", "t5", "t0", "t1", "t2"], ["t0"], ["t1", "t2"]]
    assert found.pop("t0").said == (f"its process was lost {MOST_TIMES} times",)
    assert {answer.ended for answer in found.values()} == {Ended.PLANNED}
    assert len(found) == 5


def test_what_breaks_down_takes_no_other_with_it() -> None:
    def work(one: Task, standing: Standing) -> ScenarioAnswer:
        if one.name == "t1":
            raise ZeroDivisionError("of one scenario")
        return quick(one, standing)

    tasks = [task(f"t{n}") for n in range(3)]
    found = {
        a.name: a for a in answers(tasks, Standing("", b"", ""), 1, None, ThreadPoolExecutor, work)
    }
    assert found["t1"].said == ("ZeroDivisionError: of one scenario",)
    assert [found[name].ended for name in ("t0", "t2")] == [Ended.PLANNED, Ended.PLANNED]


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


def killed_once(folder: str, one: Task, standing: Standing) -> ScenarioAnswer:
    """Kill the process that works on the first task, the first time."""
    mark = Path(folder) / one.name
    if one.name == "more" and not mark.exists():
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    if one.name == "never":
        os.kill(os.getpid(), signal.SIGKILL)
    return answer_of(one, standing)


@pytest.mark.long
def test_a_cluster_gives_the_same_answers_and_does_lost_work_again(
    standing: Standing, tmp_path: Path
) -> None:
    """Dask on this machine: two processes, one of which is killed while it works."""
    distributed = pytest.importorskip("distributed")
    tasks = [task("more", SheetEdit("Crews", {2: {"Heads": 9}})), task("nothing"), task("never")]
    alone = {one.name: answer_of(one, standing).figures for one in tasks[:2]}
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, host="127.0.0.1"
    ) as machines:
        address = machines.scheduler_address
        assert workers_of(address) == 2
        work = partial(killed_once, str(tmp_path))
        found = {a.name: a for a in answers(tasks, standing, 2, None, cluster(address), work)}
    assert found.pop("never").said == ("one worker after another was lost with it",)
    assert {name: answer.figures.cost for name, answer in found.items()} == {
        name: pytest.approx(figures.cost) for name, figures in alone.items()
    }
    assert (tmp_path / "more").exists()


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


@pytest.mark.long
def test_processes_hear_no_interrupt_themselves() -> None:
    with processes(1) as executor:
        assert executor.submit(signal.getsignal, signal.SIGINT).result() == signal.SIG_IGN
