"""A folder to run commands in, with two plan files of the tiny sample beside it."""

from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future
from datetime import date
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

import capacity
from capacity.inputs.read_input import read_book
from capacity.plans.outcome import Planned
from capacity.questions.replan.replanning import replan
from tests.faults.running import ENQUIRY, TINY
from tests.inputs.books import write_workbook
from tests.read_once import read_each_file_once

WORKS = {
    ENQUIRY: ("alone_and_together",),
    "overtime": ("review_overtime", "try_measures"),
    "risk": ("risk_of",),
    "explain": ("explained", "worth_of"),
    "crews": ("assign_crews",),
}
"""What takes its time, by command: it is worked out once, as its answer is always the same."""


SCENARIOS = [
    ["Scenario", "Sheet", "Row", "Column", "Change", "Value"],
    ["more people", "Crews", "every row", "Heads", "add", 1],
]


NETWORK = {
    "Bases": [["Base", "Workbook"], ["West", str(TINY)]],
    "Enquiries": [
        ["Check", "Aircraft", "Type", "Package", "Earliest in", "Latest in", "Price"],
        ["E1", "Q-E1", "Alder 50", "Week check", date(2027, 1, 18), date(2027, 1, 18), 10],
    ],
    "Ferry costs": [["Check", "Base", "Ferry cost"], ["E1", "West", 20]],
}
"""One base, which does not take what it is asked."""


@pytest.fixture(scope="session")
def given_plans(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with two files of one plan of the tiny sample."""
    folder = tmp_path_factory.mktemp("plans")
    base = capacity.read(TINY)
    outcome = capacity.plan(base, capacity.Settings(seconds=5))
    for name in ("old.json", "new.json"):
        capacity.report(base, outcome, folder / name)
    write_workbook({"Scenarios": SCENARIOS}, folder / "scenarios.xlsx")
    write_workbook(NETWORK, folder / "network.xlsx")
    return folder


@pytest.fixture
def beside_plans(tmp_path: Path, given_plans: Path) -> Path:
    """An empty folder; ``../given`` has the plan files."""
    (tmp_path / "given").symlink_to(given_plans)
    (tmp_path / "here").mkdir()
    return tmp_path / "here"


@pytest.fixture
def here(beside_plans: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The working folder, and another one for temporary files."""
    temporary = beside_plans.parent / "temporary"
    temporary.mkdir()
    monkeypatch.chdir(beside_plans)
    monkeypatch.setattr("tempfile.tempdir", str(temporary))
    return beside_plans


@pytest.fixture(scope="module")
def answered_once() -> Iterator[None]:
    """Commands find their answers at once, those that they found before.

    Nor do they start a child for each file that they read: what happens to children is held by the
    tests that run a command as a process, or let its starts fail.
    """
    book = read_book(TINY)
    assert book.base is not None
    outcome = capacity.plan(book.base, capacity.Settings(seconds=5))
    assert isinstance(outcome, Planned)
    anew = replan(book.base, outcome.plan, date(2027, 1, 4), capacity.Settings(seconds=3))

    def plans(*arguments: Any, **named: Any) -> Any:
        take = named.get("on_plan") or arguments[5]
        take(outcome.plan)
        return outcome

    def plans_anew(*arguments: Any, **named: Any) -> Any:
        named["on_plan"](anew.plan, anew.base)
        return anew

    scenarios = _AnsweredHere()
    with pytest.MonkeyPatch.context() as patches:
        read_each_file_once(patches)
        patches.setattr("capacity.commands.scenarios.processes", lambda workers: scenarios)
        patches.setattr("capacity.commands.common.read_book", lambda path, **named: book)
        patches.setattr("capacity.commands.plan.make_plan", plans)
        patches.setattr("capacity.commands.common.make_plan", plans)
        patches.setattr("capacity.commands.replan.plan_anew", plans_anew)
        for command, works in WORKS.items():
            module = import_module(f"capacity.commands.{command}")
            for work in works:
                patches.setattr(module, work, _done_once(getattr(module, work)))
        yield


def _done_once(work: Callable[..., Any]) -> Callable[..., Any]:
    answers: list[Any] = []

    def answer(*arguments: Any, **named: Any) -> Any:
        if not answers:
            answers.append(work(*arguments, **named))
        return answers[0]

    return answer


class _AnsweredHere(Executor):
    """Works out each scenario in this process, and once."""

    def __init__(self) -> None:
        self._answers: dict[str, Any] = {}

    def submit(self, work: Callable[..., Any], /, *about: Any, **named: Any) -> "Future[Any]":
        done: Future[Any] = Future()
        asked = repr(about)
        if asked not in self._answers:
            self._answers[asked] = work(*about, **named)
        done.set_result(self._answers[asked])
        return done
