"""Outputs that get no place: nothing that was worked out is lost, and it is said where it is.

Permissions stop nobody who may do all, as tests in a container may, so folders stand in the way.
"""

import errno
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import capacity.commands.plan as plan_command
from capacity.cli import QUESTIONS, main
from capacity.commands.exits import Exit
from capacity.commands.outputs import Outputs
from capacity.errors import OutputError
from capacity.reports.kit import whole_file
from capacity.reports.kit.whole_file import refuse_unwritable, write_whole
from capacity.reports.plan_files.written import read_plan_file

pytestmark = pytest.mark.usefixtures("reads_once")

TINY = str(Path(__file__).parents[1] / "sample_inputs" / "tiny.xlsx")


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as ended:
        main([str(argument) for argument in arguments])
    return int(ended.value.code)


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder and a folder for temporary files of their own."""
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    (tmp_path / "temporary").mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    return folder


def in_the_way(monkeypatch: pytest.MonkeyPatch, *paths: Path) -> None:
    """Let folders take the places of files while the search goes on."""
    search = plan_command.make_plan

    def slow(*arguments: Any, **more: Any) -> Any:
        outcome = search(*arguments, **more)
        for path in paths:
            path.mkdir()
        return outcome

    monkeypatch.setattr(plan_command, "make_plan", slow)


def test_the_plan_file_is_kept_beside_where_it_should_be(here, monkeypatch, capsys) -> None:
    plan, book = here / "plan.json", here / "plan.xlsx"
    in_the_way(monkeypatch, plan)
    ended = run("plan", TINY, "--seconds", "5", "--plan-out", plan, "--out", book)
    assert ended == Exit.CANNOT_WRITE
    kept = here / "plan-kept.json"
    assert len(read_plan_file(kept).plan.placements) == 4
    assert book.is_file()
    said = capsys.readouterr()
    assert f"written: {kept} (in place of {plan})" in said.out
    assert "plan.json is a folder" in said.err


def test_a_plan_is_kept_when_its_workbook_gets_no_place(here, monkeypatch, capsys) -> None:
    book = here / "plan.xlsx"
    in_the_way(monkeypatch, book)
    assert run("plan", TINY, "--seconds", "5", "--out", book) == Exit.CANNOT_WRITE
    assert len(read_plan_file(here / "plan-kept.json").plan.placements) == 4
    assert (here / "plan-kept.xlsx").is_file()
    assert "the plan file, so that the plan is not lost" in capsys.readouterr().out


def test_a_workbook_that_breaks_down_leaves_the_plan(here, monkeypatch, capsys) -> None:
    def broken(*arguments: Any) -> bytes:
        raise ZeroDivisionError

    monkeypatch.setattr("capacity.reports.plan.by_suffix.write_plan_workbook", broken)
    assert run("plan", TINY, "--seconds", "5", "--out", here / "plan.xlsx") == Exit.FAULT
    said = capsys.readouterr()
    assert "ZeroDivisionError" in said.err
    assert "plan-kept.json" in said.out
    assert len(read_plan_file(here / "plan-kept.json").plan.placements) == 4


def refusing(*folders: Path) -> Any:
    """Return a writer to whom some folders say that the disk is full."""

    def write(path: Path) -> None:
        if path.parent in folders:
            raise OutputError(f"{path} could not be written (no room).")
        path.write_bytes(b"content")

    return write


def test_other_places_are_tried_in_turn_and_nothing_is_replaced(here, tmp_path, capsys) -> None:
    asked, temporary = tmp_path / "asked", tmp_path / "temporary"
    asked.mkdir()
    (here / "plan-kept.json").write_bytes(b"older")
    outputs = Outputs(plan=refusing(asked))
    outputs.write_plan(asked / "plan.json")
    assert (here / "plan-kept.json").read_bytes() == b"older"
    assert (here / "plan-kept-2.json").read_bytes() == b"content"
    outputs = Outputs(plan=refusing(asked, here))
    outputs.write_plan(asked / "plan.json")
    assert (temporary / "plan-kept.json").read_bytes() == b"content"
    outputs = Outputs(plan=refusing(asked, here, temporary))
    outputs.write_plan(asked / "plan.json")
    assert outputs.end(Exit.PLANNED) == Exit.CANNOT_WRITE
    assert "no other place" in capsys.readouterr().err


def test_what_can_be_written_is_written(here, capsys) -> None:
    outputs = Outputs()
    (here / "no").mkdir()
    outputs.write(here / "no" / "a.xlsx", refusing(here / "no"))
    outputs.write(here / "b.xlsx", refusing())
    outputs.write(None, refusing())
    assert (here / "b.xlsx").is_file()
    assert (here / "a-kept.xlsx").is_file()
    assert outputs.end(Exit.IMPOSSIBLE) == Exit.CANNOT_WRITE
    assert Outputs().end(Exit.IMPOSSIBLE) == Exit.IMPOSSIBLE


ENQUIRY = ("enquiry", "--type", "A", "--package", "P", "--earliest", "2027-01-04")


WRITE_NOTHING = {"verify", "dashboard"}
SEARCH_NOTHING = {"samples", "new", "store"}
WRITING = [
    ("plan", "--out"),
    ("plan", "--calendar"),
    ("replan", "--today", "2027-01-04", "--plan", "none.json", "--plan-out"),
    ("replan", "--today", "2027-01-04", "--plan", "none.json", "--calendar"),
    ("enquiry", "--type", "A", "--package", "P", "--earliest", "2027-01-04", "--plan-out"),
    (*ENQUIRY, "--book", "anyway", "--booked-out"),
    (*ENQUIRY, "--book", "anyway", "--workbook-out"),
    *((name, "--out") for name in ("crews", "overtime", "risk", "explain", "learn")),
    ("explain", "--plan", "a.json", "--move", "A; off", "--workbook-out"),
    ("roll", "--plan", "a.json", "--first-day", "2027-01-11", "--out"),
    ("scenarios", "b.xlsx", "--plan", "a.json", "--out"),
    ("network", "--out"),
    ("compare", "--plan", "a.json", "--plan", "b.json", "--out"),
]


def test_every_command_is_asked_about_the_disk() -> None:
    assert {name for name, *_ in WRITING} == set(QUESTIONS) - WRITE_NOTHING - SEARCH_NOTHING


@pytest.mark.parametrize("question", WRITING)
def test_a_full_disk_is_said_before_the_search(here, monkeypatch, capsys, question) -> None:
    endings = {"--calendar": "ics", "--plan-out": "json"}
    monkeypatch.setattr(whole_file.shutil, "disk_usage", lambda folder: whole_file_full())
    name, *options = question
    out = here / f"out.{endings.get(options[-1], 'xlsx')}"
    assert run(name, TINY, *options, out) == Exit.CANNOT_WRITE
    assert "The disk is full" in capsys.readouterr().err
    assert list(here.iterdir()) == []


def whole_file_full() -> Any:
    import shutil

    return shutil._ntuple_diskusage(100, 100, 0)  # type: ignore[attr-defined]


def test_a_folder_that_may_not_be_written_to_is_said_before(here, monkeypatch) -> None:
    asked = []

    def no(path: Path, mode: int) -> bool:
        asked.append((Path(path), mode))
        return False

    monkeypatch.setattr(whole_file.os, "access", no)
    with pytest.raises(OutputError, match="You may not write there"):
        refuse_unwritable(here / "plan.json")
    assert asked == [(here, os.W_OK | os.X_OK)]
    assert list(here.iterdir()) == []


def test_a_file_that_is_write_protected_is_not_replaced(here, monkeypatch) -> None:
    path = here / "plan.json"
    path.write_bytes(b"old")
    monkeypatch.setattr(whole_file.os, "access", lambda path, mode: False)
    for write in (refuse_unwritable, lambda path: write_whole(b"new", path)):
        with pytest.raises(OutputError, match="You may not write there"):
            write(path)
    assert path.read_bytes() == b"old"


def test_a_link_stays_and_its_file_is_replaced(here, tmp_path) -> None:
    (tmp_path / "far").mkdir()
    true, link, nowhere = tmp_path / "far" / "true.json", here / "link.json", here / "new.json"
    true.write_bytes(b"old")
    link.symlink_to(true)
    nowhere.symlink_to(tmp_path / "far" / "new.json")
    for path in (link, nowhere):
        refuse_unwritable(path)
        write_whole(b"new", path)
        assert path.is_symlink()
    assert {p.name: p.read_bytes() for p in (tmp_path / "far").iterdir()} == {
        "true.json": b"new",
        "new.json": b"new",
    }


def test_links_in_a_circle_are_said(here) -> None:
    (here / "a.json").symlink_to(here / "b.json")
    (here / "b.json").symlink_to(here / "a.json")
    with pytest.raises(OutputError, match="links lead back"):
        write_whole(b"new", here / "a.json")


@pytest.mark.parametrize("mode", [0o600, 0o664, 0o640])
def test_who_may_read_a_file_stays(here, mode: int) -> None:
    path = here / "plan.json"
    path.write_bytes(b"old")
    path.chmod(mode)
    write_whole(b"new", path)
    assert path.stat().st_mode & 0o777 == mode


def command(*arguments: str) -> list[str]:
    return [sys.executable, "-m", "capacity", *arguments]


def test_a_reader_who_has_read_enough_loses_no_file(here) -> None:
    """``capacity plan ... | head -1``: the pipe is closed before the search has begun."""
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        command("plan", TINY, "--seconds", "3", "--plan-out", "plan.json", "--out", "plan.xlsx"),
        stdout=writing,
        stderr=writing,
        cwd=here,
        check=False,
    )
    os.close(writing)
    assert done.returncode == Exit.PLANNED
    assert {path.name for path in here.iterdir()} == {"plan.json", "plan.xlsx"}
    assert json.loads((here / "plan.json").read_text(encoding="utf-8"))["outcome"] == "planned"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no such device here")
def test_an_answer_that_cannot_be_printed_is_said_and_its_file_is_there(here) -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = subprocess.run(
            command("plan", TINY, "--seconds", "3", "--plan-out", "plan.json"),
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            cwd=here,
            check=False,
        )
    assert done.returncode == Exit.CANNOT_WRITE
    assert f"could not be printed ({os.strerror(errno.ENOSPC)})" in done.stderr
    assert (here / "plan.json").is_file()


def test_feeds_are_written_each_by_itself(here, capsys) -> None:
    """The tiny sample has one crew, Mechanics; a folder stands where its feed should be."""
    feeds = here / "feeds"
    (feeds / "01-Mechanics.ics").mkdir(parents=True)
    options = ("--seconds", "1", "--weeks", "1", "--calendars", feeds, "--out", here / "crews.xlsx")
    assert run("crews", TINY, *options) == Exit.CANNOT_WRITE
    said = capsys.readouterr()
    assert "01-Mechanics.ics is a folder" in said.err
    assert "0 calendar feeds" in said.out
    assert (here / "crews.xlsx").is_file()
