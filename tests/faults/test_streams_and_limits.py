"""Streams that are closed or cannot write a name, and too little memory: the plan is there."""

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


def closing(*numbers: int) -> Callable[[], None]:
    def close() -> None:
        for number in numbers:
            os.close(number)

    return close


def test_streams_that_are_closed_at_the_start_lose_nothing(tmp_path) -> None:
    """What is opened next would have their numbers, and libraries print to those."""
    outputs = (PLAN_OUT, "plan.json", "--out", "plan.xlsx")
    ended = done(tmp_path, "plan", TINY, "--seconds", "3", *outputs, before=closing(0, 1, 2))
    assert ended.returncode == Exit.PLANNED
    assert {path.name for path in tmp_path.iterdir()} == {"plan.json", "plan.xlsx"}
    assert running.placed(tmp_path / "plan.json") == 4


@pytest.mark.parametrize(
    "encoding",
    [
        {"PYTHONIOENCODING": "cp1252"},
        {"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"},
    ],
    ids=["cp1252", "ascii, for names of files too"],
)
def test_an_encoding_that_cannot_write_a_name_loses_nothing(encoding, tmp_path) -> None:
    ended = done(
        tmp_path, "plan", TINY, "--seconds", "3", PLAN_OUT, PLAN, "--out", BOOK, **encoding
    )
    assert ended.returncode == Exit.PLANNED, ended.stderr
    assert {path.name for path in tmp_path.iterdir()} == {PLAN, BOOK}
    assert b"written: Plan" in ended.stdout


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


@pytest.mark.parametrize("mebibytes", [300, 600])
def test_too_little_memory_ends_in_a_known_way(mebibytes, tmp_path) -> None:
    """A library that ends the process by itself does so with 1, before there is a plan."""
    import resource

    def limit() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (mebibytes * 2**20, mebibytes * 2**20))

    outputs = (PLAN_OUT, "plan.json", "--out", "plan.xlsx")
    ended = done(
        tmp_path, "plan", TINY, "--seconds", "3", *outputs, before=limit, OPENBLAS_NUM_THREADS="1"
    )
    known = {Exit.PLANNED, Exit.INPUT_ERRORS, Exit.NO_MEMORY, Exit.CANNOT_WRITE}
    assert ended.returncode in known, ended.stderr.decode()[-2000:]
    plans = [path for path in tmp_path.iterdir() if path.suffix == ".json"]
    assert bool(plans) or b"best" not in ended.stderr
    assert not list(tmp_path.glob(".*"))
    assert ended.returncode == Exit.PLANNED or ended.stderr
