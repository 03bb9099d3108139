"""Whichever step of writing an answer fails, it is kept elsewhere, and so is its partner."""

import errno
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

import capacity
from capacity.cli import main
from capacity.commands.exits import Exit
from capacity.inputs.read_input import read_book
from capacity.plans.outcome import Planned
from capacity.reports import report
from tests.faults.failing_steps import Steps, failing
from tests.faults.running import ENQUIRY, TAKEN_OUT, TINY

FAULTS = (errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO, errno.EDQUOT)
A_FILE = 5  # steps: open, write, flush, settle, take the place
FOR_EVER = 10**6
ANSWERED_ONCE = {
    ENQUIRY: ("ask", "best_combinations"),
    "overtime": ("review_overtime",),
    "risk": ("risk_of",),
    "explain": ("explained",),
    "crews": ("assign_crews",),
}
"""What takes its time, by command: it is worked out once, as its answer is always the same."""


@pytest.fixture(scope="module")
def given(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder with two files of one plan, and commands that find their answers at once."""
    folder = tmp_path_factory.mktemp("given")
    book = read_book(TINY)
    assert book.base is not None
    outcome = capacity.plan(book.base, capacity.Settings(seconds=10))
    assert isinstance(outcome, Planned)
    for name in ("old.json", "new.json"):
        report(book.base, outcome, folder / name, where=book.where, workbook=book.base)
    with pytest.MonkeyPatch.context() as patches:
        patches.setattr("capacity.commands.common.read_book", lambda path, **named: book)
        for command, works in ANSWERED_ONCE.items():
            module = import_module(f"capacity.commands.{command}")
            for work in works:
                patches.setattr(module, work, answering_once(getattr(module, work)))
        yield folder


def answering_once(work: Callable[..., Any]) -> Callable[..., Any]:
    answers: list[Any] = []

    def answer(*arguments: Any, **named: Any) -> Any:
        if not answers:
            answers.append(work(*arguments, **named))
        return answers[0]

    return answer


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder and one for temporary files."""
    for name in ("here", "temporary"):
        (tmp_path / name).mkdir()
    monkeypatch.chdir(tmp_path / "here")
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    return tmp_path / "here"


ONE_AIRCRAFT = ("--type", "Alder 50", "--package", "Week check", "--earliest", "2027-01-04")
QUESTIONS = {
    ENQUIRY: ((*ONE_AIRCRAFT, "--seconds", "1", TAKEN_OUT, "a.json", "--out", "b.xlsx"), 2),
    "overtime": (("--no-measures", "--out", "b.xlsx"), 1),
    "risk": (("--simulations", "100", "--out", "b.xlsx"), 1),
    "explain": (("--seconds", "5", "--out", "b.xlsx"), 1),
    "crews": (("--weeks", "1", "--seconds", "1", "--calendars", ".", "--out", "b.xlsx"), 2),
    "compare": (("--out", "b.xlsx"), 1),
}
"""Options, and how many files they ask for."""


@pytest.mark.parametrize("lasts", [False, True], ids=["one step", "all from then on"])
@pytest.mark.parametrize("question", QUESTIONS)
def test_whichever_step_fails_every_answer_is_somewhere(
    question: str,
    lasts: bool,
    here: Path,
    given: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    options, files = QUESTIONS[question]
    old, new = given / "old.json", given / "new.json"
    plans = ("--plan", old, "--plan", new) if question == "compare" else ("--plan", old)
    for number in range(1, A_FILE * files + 1):
        last = FOR_EVER if lasts else number
        with failing(Steps((here,), FAULTS[number % len(FAULTS)], number, last)) as steps:
            code = run(question, TINY, *plans, *options)
        said = capsys.readouterr()
        assert steps.taken >= number, "the count of steps is too high"
        assert code == Exit.CANNOT_WRITE
        assert "could not be written" in said.err
        assert "Traceback" not in said.err
        written = [p for name in ("here", "temporary") for p in (here.parent / name).iterdir()]
        assert len(written) == len({path.suffix for path in written}) == files
        assert ".tmp" not in {path.suffix for path in written}
        for path in written:
            assert path.name in said.out or path.suffix == ".ics"
            assert "-kept" not in path.name or path.name in said.out
            assert path.stat().st_size
            path.unlink()


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as ended:
        main([str(argument) for argument in arguments])
    return int(ended.value.code or 0)
