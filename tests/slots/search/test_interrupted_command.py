"""Ctrl-C at the command line: the best plan so far is written and the command ends well."""

import json
import os
import signal
import subprocess
import sys
import time
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

import capacity
from capacity.facts import Base, Status
from capacity.plans.plan import StageDays, WeekHours

ROOT = Path(__file__).parents[3]
BOOK = ROOT / "sample_inputs" / "quarter.xlsx"
PROC = Path("/proc")
# The command itself; a process started in the background would inherit an ignored Ctrl-C.
COMMAND = """
import signal
signal.signal(signal.SIGINT, signal.default_int_handler)
from capacity.cli import main
main()
"""


def children_of(process: int) -> set[int]:
    """Return the processes started by a process, from the table of the system."""
    found = set()
    for entry in PROC.iterdir():
        if entry.name.isdigit():
            try:
                state = (entry / "stat").read_text(encoding="utf-8")
            except OSError:
                continue  # it has ended meanwhile
            if int(state.rpartition(")")[2].split()[1]) == process:
                found.add(int(entry.name))
    return found


def wait_for_two_children(process: "subprocess.Popen[str]") -> set[int]:
    until = time.monotonic() + 90
    while time.monotonic() < until and process.poll() is None:
        if len(found := children_of(process.pid)) == 2:
            return found
        time.sleep(0.1)
    raise AssertionError(f"the two sides were never seen; code {process.poll()}")


def plan_from(summary: dict[str, Any], base: Base) -> capacity.Plan:
    """Make a plan of what the summary says of it."""
    placements = tuple(
        capacity.Placement(
            check=placed["check"],
            bay=placed["bay"],
            stage_from=placed["stage_from"],
            in_day=date.fromisoformat(placed["in"]),
            out_day=date.fromisoformat(placed["out"]),
            stages=tuple(stage_days(stage) for stage in placed["stages"]),
        )
        for placed in summary["placements"]
    )
    known = {placement.check for placement in placements}
    options = [check.name for check in base.checks if check.status is Status.OPTION]
    refused = tuple(name for name in options if name not in known)
    return capacity.Plan(placements, tuple(summary["not_placed"]), refused)


def stage_days(stage: dict[str, Any]) -> StageDays:
    until = date.fromisoformat(stage["to"]) + timedelta(days=1)
    hours = (WeekHours(h["skill"], h["week"], h["hours"]) for h in stage.get("hours", ()))
    return StageDays(stage["stage"], date.fromisoformat(stage["from"]), until, tuple(hours))


@pytest.mark.long  # a signal to the command is also tried by tests/faults, with a small base
@pytest.mark.skipif(not (PROC / "self" / "stat").exists(), reason="needs a table of processes")
def test_an_interrupt_writes_an_audited_plan_and_leaves_no_process(tmp_path: Path) -> None:
    summary = tmp_path / "plan.json"
    command = [sys.executable, "-c", COMMAND, "plan", str(BOOK), "--seconds", "300"]
    process = subprocess.Popen(
        [*command, "--plan-out", str(summary)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        sides = wait_for_two_children(process)
        time.sleep(1.0)
        process.send_signal(signal.SIGINT)
        output, errors = process.communicate(timeout=60)
    finally:
        process.kill()
    assert process.returncode == 0, errors
    assert str(summary) in output
    assert "ended by a person" in output
    written = json.loads(summary.read_text(encoding="utf-8"))
    base = capacity.read(BOOK)
    audit = capacity.audit(base, plan_from(written, base))
    assert audit.broken == ()
    assert audit.goals.money == pytest.approx(written["goals"]["money"], abs=0.01)
    assert audit.goals.days_past_latest_in == written["goals"]["days_past_latest_in"]
    assert not any(is_running(side) for side in sides)


def is_running(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True
