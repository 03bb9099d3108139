"""Streams that nobody reads or that cannot write a name: the plan is there."""

import os
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from capacity.commands.exits import Exit
from tests.faults import running
from tests.faults.running import PLAN_OUT, ROOT, TINY, command

pytestmark = pytest.mark.skipif(os.name != "posix", reason="needs numbers of files, and limits")
PLAN, BOOK = "Plan Łódź.json", "Plan Łódź.xlsx"


def done(
    folder: Path,
    *arguments: object,
    before: Callable[[], None] | None = None,
    **environment: str,
) -> "subprocess.CompletedProcess[bytes]":
    """Run the command in a folder, with something done in its process first."""
    return subprocess.run(
        command(*arguments, endless=False),
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "TMPDIR": str(folder), **environment},
        capture_output=True,
        preexec_fn=before,
        check=False,
        timeout=running.MOST_SECONDS,
    )


@pytest.mark.parametrize(
    "encoding",
    [
        pytest.param({"PYTHONIOENCODING": "cp1252"}, id="cp1252"),
        pytest.param(
            {"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"},
            id="ascii, for names of files too",
            marks=pytest.mark.long,
        ),
    ],
)
def test_an_encoding_that_cannot_write_a_name_loses_nothing(encoding, tmp_path) -> None:
    ended = done(
        tmp_path, "plan", TINY, "--seconds", "3", PLAN_OUT, PLAN, "--out", BOOK, **encoding
    )
    assert ended.returncode == Exit.PLANNED, ended.stderr
    assert {path.name for path in tmp_path.iterdir()} == {PLAN, BOOK}
    assert b"written: Plan" in ended.stdout


@pytest.mark.long
def test_where_nobody_reads_the_answer_and_no_file_has_it_the_plan_is_kept(tmp_path) -> None:
    with Path("/dev/full").open("wb") as full:
        ended = done(
            tmp_path, "plan", TINY, "--seconds", "3", before=lambda: _as_output(full.fileno())
        )
    assert ended.returncode == Exit.CANNOT_WRITE
    assert running.placed(tmp_path / "plan-kept.json") == 4
    assert b"written: " in ended.stderr
    assert b"plan-kept.json" in ended.stderr


def _as_output(number: int) -> None:
    os.dup2(number, 1)
