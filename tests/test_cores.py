"""How many processes search where nobody says, and which numbers are refused, with a remedy."""

import os
from pathlib import Path

import pytest

import capacity
from capacity import cores
from capacity.cli import main
from capacity.commands.exits import Exit
from ui.desk.search_settings import search_settings

TINY = str(Path(__file__).parents[1] / "sample_inputs" / "tiny.xlsx")
NO_FILE = Path("no such folder") / "cpu.max"


def on_a_machine(patches: pytest.MonkeyPatch, count: int | None, quota: Path = NO_FILE) -> None:
    patches.setattr(os, "process_cpu_count", lambda: count, raising=False)
    patches.setattr(cores, "QUOTA", quota)


@pytest.mark.parametrize(
    ("count", "workers"), [(None, 2), (1, 2), (2, 2), (3, 2), (4, 3), (16, 15), (65, 64), (200, 64)]
)
def test_all_cores_but_one_search_and_two_at_the_least(
    count: int | None, workers: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    on_a_machine(monkeypatch, count)
    assert cores.usual_workers() == workers
    assert capacity.Settings().finding == workers - 1
    assert capacity.Settings(workers=7).finding == 6


@pytest.mark.parametrize(
    ("quota", "count"),
    [("max 100000\n", 16), ("400000 100000\n", 4), ("50000 100000\n", 1), ("\n", 16)],
)
def test_a_container_has_no_more_cores_than_its_quota(
    quota: str, count: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The two numbers are microseconds of processor time and of the clock (Linux, cgroup v2)."""
    path = tmp_path / "cpu.max"
    path.write_text(quota, encoding="ascii")
    on_a_machine(monkeypatch, 16, path)
    assert cores.cores_at_hand() == count


def test_the_cores_given_to_this_process_count_where_python_does_not_say(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delattr(os, "process_cpu_count", raising=False)
    monkeypatch.setattr(cores, "QUOTA", NO_FILE)
    monkeypatch.setattr(os, "sched_getaffinity", lambda process: {2, 3, 5}, raising=False)
    assert cores.cores_at_hand() == 3
    monkeypatch.delattr(os, "sched_getaffinity", raising=False)
    monkeypatch.setattr(os, "cpu_count", lambda: 6)
    assert cores.cores_at_hand() == 6


@pytest.mark.parametrize(
    ("given", "told"), [("1", "too few"), ("-3", "too few"), ("65", "too many"), ("two", "whole")]
)
def test_a_number_that_makes_no_sense_is_refused_with_the_remedy(
    given: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["plan", TINY, "--workers", given])
    assert ended.value.code == Exit.USAGE
    said = " ".join(capsys.readouterr().err.replace("│", " ").split())
    assert told in said
    assert "2 to 64" in said
    assert "leave it out" in said


def test_a_search_on_the_dashboard_has_two_processes_unless_told_otherwise(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    on_a_machine(monkeypatch, 16)
    monkeypatch.delenv("CAPACITY_DASHBOARD_WORKERS", raising=False)
    assert search_settings(20.0) == capacity.Settings(seconds=20.0, workers=2)
    monkeypatch.setenv("CAPACITY_DASHBOARD_WORKERS", "5")
    assert search_settings(20.0) == capacity.Settings(seconds=20.0, workers=5)
