"""A side that dies says why, and the answer says what that means for the plan."""

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

import capacity
from capacity.plans.outcome import Planned, Progress
from capacity.reports import describe
from capacity.slots.line import side_process
from capacity.slots.line.ended_early import how_it_died
from tests.bench.invented import invented_quarter

LONG = 60.0
# Too large to be solved on the spot, so that the sides are started.
QUARTER = invented_quarter(4, bays=6, checks=20, weeks=8)
FINDING, PROVING = "the search for better plans ended early", "the proof ended early"


def planned_with(executable: Path, monkeypatch: pytest.MonkeyPatch) -> Planned:
    """Plan with another program in the place of Python."""
    monkeypatch.setattr(sys, "executable", str(executable))
    outcome = capacity.plan(QUARTER, capacity.Settings(workers=2, seconds=LONG))
    assert isinstance(outcome, Planned)
    return outcome


def script(folder: Path, text: str) -> Path:
    path = folder / "side"
    path.write_text(f"#!/bin/sh\n{text}\n", encoding="utf-8")
    path.chmod(0o755)
    return path


def test_what_a_side_wrote_at_the_last_is_kept_and_bounded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    noise = "head -c 200000 /dev/zero | tr '\\0' x >&2"
    outcome = planned_with(
        script(tmp_path, f"{noise}; echo 'out of paper' >&2; exit 3"), monkeypatch
    )
    assert len(outcome.faults) == 2
    for fault in outcome.faults:
        assert fault.startswith("its process ended with code 3")
        assert fault.endswith("out of paper")
        assert len(fault) <= side_process.MOST_BYTES_OF_ERRORS + 100


def test_when_both_sides_die_it_was_not_the_time_given(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    outcome = planned_with(script(tmp_path, "exit 1"), monkeypatch)
    assert outcome.stopped_by == "fault"
    assert outcome.seconds < LONG / 2
    told = [note.what for note in outcome.notes]
    assert sum(FINDING in what for what in told) == sum(PROVING in what for what in told) == 1
    text = describe(QUARTER, outcome)
    assert "ended by a fault in the search itself" in text
    assert FINDING in text
    assert PROVING in text


def test_sides_that_cannot_be_started_leave_the_plan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    outcome = planned_with(tmp_path / "nothing", monkeypatch)
    assert outcome.stopped_by == "fault"
    assert ["could not be started" in what for what in ended_early(outcome)] == [True, True]
    assert capacity.audit(QUARTER, outcome.plan).broken == ()


@pytest.mark.skipif(os.name != "posix", reason="needs signals")
def test_killed_sides_are_told_as_killed(monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[subprocess.Popen[bytes]] = []
    start = subprocess.Popen

    def watched(*arguments: object, **options: object) -> "subprocess.Popen[bytes]":
        started.append(start(*arguments, **options))
        return started[-1]

    monkeypatch.setattr(side_process.subprocess, "Popen", watched)
    outcome = capacity.plan(QUARTER, capacity.Settings(workers=2, seconds=LONG), killing(started))
    assert isinstance(outcome, Planned)
    assert outcome.stopped_by == "fault"
    assert ["its process was killed" in what for what in ended_early(outcome)] == [True, True]


def ended_early(outcome: Planned) -> list[str]:
    return [note.what for note in outcome.notes if "ended early" in note.what]


def killing(started: list["subprocess.Popen[bytes]"]) -> Callable[[Progress], None]:
    def hear(progress: Progress) -> None:
        while started:
            started.pop().send_signal(signal.SIGKILL)

    return hear


def test_a_signal_is_named() -> None:
    assert "SIGSEGV" in how_it_died(-signal.SIGSEGV)
    assert "code 7" in how_it_died(7)
