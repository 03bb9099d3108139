"""The best plan so far is on disk while work goes on, and gone once its own file is there."""

import json
import signal
import subprocess
import time
from collections.abc import Callable
from pathlib import Path

import pytest

import capacity
from capacity.cli import main
from capacity.commands import saved_meanwhile
from capacity.commands.exits import Ended, Exit
from capacity.commands.outputs import Outputs
from capacity.errors import OutputError
from capacity.reports.plan_files.plan_from_file import with_refused
from capacity.reports.plan_files.written import read_plan_file
from tests.faults.running import EARLIER, PLAN_OUT, TINY, interrupted

MOST_SECONDS = 30.0


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder, where plans are saved at once."""
    for name in ("here", "temporary"):
        (tmp_path / name).mkdir()
    monkeypatch.chdir(tmp_path / "here")
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    monkeypatch.setattr(saved_meanwhile, "LEAST_SECONDS_BETWEEN", 0.0)
    return tmp_path / "here"


def awaited(path: Path, is_there: Callable[[Path], bool] = Path.exists) -> None:
    until = time.monotonic() + MOST_SECONDS
    while not is_there(path):
        assert time.monotonic() < until
        time.sleep(0.02)


def saying(content: str, *refused: Path) -> Callable[[Path], None]:
    def write(path: Path) -> None:
        if path in refused:
            raise OutputError(f"{path} could not be written (no room).")
        path.write_text(content, encoding="utf-8")

    return write


def texts(folder: Path) -> dict[str, str]:
    return {path.name: path.read_text(encoding="utf-8") for path in folder.iterdir()}


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signal here")
@pytest.mark.parametrize(
    "question",
    [
        ("plan", TINY, PLAN_OUT, "asked.json", "--out", "asked.xlsx"),
        ("crews", TINY, "--weeks", "1", "--out", "asked.xlsx"),
    ],
    ids=["plan", "crews"],
)
def test_kill_9_leaves_a_plan_file_to_go_on_from(question, tmp_path) -> None:
    kept = tmp_path / "asked-kept.json"

    def kill(process: "subprocess.Popen[str]") -> None:
        awaited(kept)
        time.sleep(0.1)
        process.kill()

    ended = interrupted(tmp_path, kill, *question, "--seconds", "60")
    assert ended.code == -signal.SIGKILL
    saved = read_plan_file(kept)
    assert saved.made is not None
    base = capacity.read(TINY)
    assert capacity.audit(base, with_refused(saved.plan, base)).broken == ()
    assert [path.name for path in tmp_path.iterdir()] == [kept.name]
    with pytest.raises(SystemExit) as again:
        main(["plan", str(TINY), EARLIER, str(kept), "--seconds", "2"])
    assert again.value.code == Exit.PLANNED


def test_the_end_takes_it_away(here) -> None:
    saved = here / "a-kept.json"
    with Outputs(beside=here / "a.json") as outputs:
        outputs.hold(saying("first"))
        awaited(saved)
        assert saved.read_text(encoding="utf-8") == "first"
        outputs.hold(saying("second"))
        awaited(saved, lambda path: path.read_text(encoding="utf-8") == "second")
        outputs.write_plan(here / "a.json")
        assert texts(here) == {"a.json": "second"}
    assert texts(here) == {"a.json": "second"}


def test_a_question_with_another_answer_takes_it_away(here) -> None:
    with Outputs(beside=here / "a.xlsx") as outputs:
        outputs.hold(saying("plan"))
        awaited(here / "a-kept.json")
        outputs.write(here / "a.xlsx", saying("answer"))
    assert texts(here) == {"a.xlsx": "answer"}


def test_what_breaks_down_leaves_the_last_plan_in_its_place(here, capsys) -> None:
    def work() -> None:
        with Outputs(beside=here / "a.json") as outputs:
            outputs.hold(saying("first"))
            awaited(here / "a-kept.json")
            outputs.hold(saying("last"))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        work()
    assert texts(here) == {"a-kept.json": "last"}
    assert "a-kept.json" in capsys.readouterr().out


def test_an_answer_that_cannot_be_had_leaves_the_plan(here) -> None:
    """As of a second plan that a question asks for, and there is none."""

    def work() -> None:
        with Outputs(beside=here / "a.xlsx") as outputs:
            outputs.hold(saying("plan"))
            raise Ended(Exit.IMPOSSIBLE)

    with pytest.raises(Ended):
        work()
    assert texts(here) == {"a-kept.json": "plan"}


def test_an_error_before_a_plan_leaves_nothing(here) -> None:
    with pytest.raises(ZeroDivisionError), Outputs(beside=here / "a.json"):
        raise ZeroDivisionError
    assert texts(here) == {}


def test_a_plan_file_without_its_place_takes_that_of_the_saved_one(here, capsys) -> None:
    with Outputs(beside=here / "a.json") as outputs:
        outputs.hold(saying("first"))
        awaited(here / "a-kept.json")
        outputs.hold(saying("last", here / "a.json"))
        outputs.write_plan(here / "a.json")
    assert texts(here) == {"a-kept.json": "last"}
    assert outputs.end(Exit.PLANNED) == Exit.CANNOT_WRITE
    assert "a-kept.json (in place of" in capsys.readouterr().out


def test_where_nothing_can_be_written_any_more_the_saved_one_stays(here, capsys) -> None:
    def nowhere(path: Path) -> None:
        raise OutputError(f"{path} could not be written (no room).")

    with Outputs(beside=here / "a.json") as outputs:
        outputs.hold(saying("first"))
        awaited(here / "a-kept.json")
        outputs.hold(nowhere)
        outputs.write_plan(here / "a.json")
    assert texts(here) == {"a-kept.json": "first"}
    assert outputs.end(Exit.PLANNED) == Exit.CANNOT_WRITE
    said = capsys.readouterr()
    assert "a-kept.json (the plan as it was saved while the search ran" in said.out
    assert "lost" not in said.err


def test_an_older_kept_file_is_not_replaced(here) -> None:
    (here / "a-kept.json").write_text("older", encoding="utf-8")
    with Outputs(beside=here / "a.json") as outputs:
        outputs.hold(saying("new"))
        awaited(here / "a-kept-2.json")
        outputs.write_plan(here / "a.json")
    assert texts(here) == {"a-kept.json": "older", "a.json": "new"}


def test_nothing_is_saved_where_no_output_was_asked_for(here) -> None:
    with Outputs() as outputs:
        outputs.hold(saying("plan"))
        time.sleep(0.2)
        assert texts(here) == {}
    assert texts(here) == {}


def test_a_slow_write_is_not_done_again_soon(here) -> None:
    writes: list[Path] = []

    def slow(path: Path) -> None:
        writes.append(path)
        time.sleep(0.1)
        saying("plan")(path)

    with Outputs(beside=here / "a.json") as outputs:
        for _ in range(30):
            outputs.hold(slow)
            time.sleep(0.02)
        outputs.write(here / "a.xlsx", saying("answer"))
    assert len(writes) == 1


def test_a_faulty_plan_is_not_saved_and_the_next_one_is(here) -> None:
    def faulty(path: Path) -> None:
        raise ZeroDivisionError

    with Outputs(beside=here / "a.json") as outputs:
        outputs.hold(faulty)
        time.sleep(0.1)
        outputs.hold(saying(json.dumps({})))
        awaited(here / "a-kept.json")
    assert texts(here) == {}
