"""Whichever step of writing fails, the plan and what could be written are there."""

import errno
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

import capacity
from capacity.cli import main
from capacity.commands.exits import Exit
from capacity.commands.outputs import Outputs
from capacity.crews.assign import assign_crews
from capacity.crews.crew_settings import CrewSettings
from capacity.inputs.read_input import read_book
from capacity.plans.outcome import Planned
from capacity.questions.replan.replanning import replan
from capacity.reports import report
from capacity.reports.kit import whole_file
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan_files.written import read_plan_file
from tests.faults.failing_steps import Steps, failing
from tests.faults.running import PLAN_OUT, STANDING, TINY

FAULTS = (errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO, errno.EDQUOT)
A_FILE = 5  # steps: open, write, flush, settle, take the place
FOR_EVER = 10**6


@pytest.fixture(scope="module")
def found() -> Iterator[Planned]:
    """The plan of the sample, which every command here finds at once."""
    book = read_book(TINY)
    assert book.base is not None
    outcome = capacity.plan(book.base, capacity.Settings(seconds=10))
    assert isinstance(outcome, Planned)
    anew = replan(book.base, outcome.plan, date(2027, 1, 4), capacity.Settings(seconds=3))
    staffed = assign_crews(book.base, outcome.plan, CrewSettings(weeks=1, seconds=3))

    def plans(*arguments: Any, **named: Any) -> Planned:
        take = named.get("on_plan") or arguments[5]
        take(outcome.plan)
        return outcome

    with pytest.MonkeyPatch.context() as patches:
        patches.setattr("capacity.commands.common.read_book", lambda path, **named: book)
        patches.setattr("capacity.commands.plan.make_plan", plans)
        patches.setattr("capacity.commands.common.make_plan", plans)
        patches.setattr("capacity.commands.replan.plan_anew", lambda *_, **__: anew)
        patches.setattr("capacity.commands.crews.assign_crews", lambda *_, **__: staffed)
        yield outcome


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, found: Planned) -> Path:
    """A working folder, with a plan that stands in a folder ``given`` beside it."""
    for name in ("here", "temporary", "given", "far"):
        (tmp_path / name).mkdir()
    base = capacity.read(TINY)
    report(base, found, tmp_path / "given" / "old.json")
    monkeypatch.chdir(tmp_path / "here")
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    return tmp_path / "here"


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as ended:
        main([str(argument) for argument in arguments])
    return int(ended.value.code or 0)


def plan(here: Path) -> tuple[object, ...]:
    return ("plan", TINY, PLAN_OUT, "a.json", "--out", here / "b.xlsx", "--calendar", "c.ics")


def plan_workbook(here: Path) -> tuple[object, ...]:
    return ("plan", TINY, "--out", here / "b.xlsx")


def replanned(here: Path) -> tuple[object, ...]:
    old = here.parent / "given" / "old.json"
    outputs = (PLAN_OUT, here / "a.json", "--out", here / "b.xlsx")
    return ("replan", TINY, STANDING, old, "--today", "2027-01-04", *outputs)


def staffed(here: Path) -> tuple[object, ...]:
    return ("crews", TINY, "--weeks", "1", "--out", "b.xlsx")


@pytest.mark.parametrize(
    ("command", "endings"),
    [
        (plan, {".json", ".xlsx", ".ics"}),
        (plan_workbook, {".xlsx"}),
        (replanned, {".json", ".xlsx"}),
        (staffed, {".xlsx"}),
    ],
    ids=["plan", "plan workbook only", "replan", "crews"],
)
@pytest.mark.parametrize("lasts", [False, True], ids=["one step", "all from then on"])
def test_whichever_step_fails_the_plan_is_kept_and_the_rest_written(
    command: Callable[[Path], tuple[object, ...]],
    endings: set[str],
    lasts: bool,
    here: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    for number in range(1, A_FILE * len(endings) + 1):
        last = FOR_EVER if lasts else number
        steps = Steps((here,), FAULTS[number % len(FAULTS)], number, last)
        with failing(steps):
            code = run(*command(here))
        said = capsys.readouterr()
        assert steps.taken >= number, "the count of steps is too high"
        assert code == Exit.CANNOT_WRITE
        assert "could not be written" in said.err
        assert "Traceback" not in said.err
        written = [p for name in ("here", "temporary") for p in (here.parent / name).iterdir()]
        assert not [path for path in written if path.suffix == ".tmp"]
        assert {path.suffix for path in written} >= endings | {".json"}
        (kept,) = (path for path in written if path.suffix == ".json")
        assert len(read_plan_file(kept).plan.placements) == 4
        for path in written:
            assert path.name in said.out
            path.unlink()


def test_a_file_that_is_not_replaced_is_as_it_was_with_its_link_and_mode(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    true, link = here.parent / "far" / "true.json", here / "a.json"
    link.symlink_to(true)
    for number in range(1, A_FILE + 2):
        true.write_bytes(b"old")
        true.chmod(0o640)
        with failing(Steps((true.parent,), errno.ENOSPC, number, number)):
            code = run("plan", TINY, PLAN_OUT, link)
        is_replaced = number > A_FILE
        assert code == (Exit.PLANNED if is_replaced else Exit.CANNOT_WRITE)
        assert link.is_symlink()
        assert true.stat().st_mode & 0o777 == 0o640
        assert (true.read_bytes() == b"old") is not is_replaced
        assert list(true.parent.iterdir()) == [true]
        kept = here / "a-kept.json"
        assert kept.exists() is not is_replaced
        kept.unlink(missing_ok=True)
    capsys.readouterr()


def test_a_name_that_this_system_cannot_write_has_a_plain_one_in_its_place(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Names of files are ASCII here, as Python takes them to be under some settings."""
    writes = whole_file._replace

    def refuses(content: bytes, path: Path) -> None:
        path.name.encode("ascii")
        writes(content, path)

    monkeypatch.setattr(whole_file, "_replace", refuses)
    monkeypatch.setattr("os.fsencode", lambda name: str(name).encode("ascii"))
    outputs = Outputs(plan=lambda path: write_whole(b"plan", path))
    outputs.write_plan(here / "Pläne.json")
    assert outputs.end(Exit.PLANNED) == Exit.CANNOT_WRITE
    said = capsys.readouterr()
    assert "Choose a name of plain letters" in said.err
    assert (here / "Pl_ne-kept.json").read_bytes() == b"plan"
    assert "Pl_ne-kept.json" in said.out
