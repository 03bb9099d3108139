"""Every command meets every fault: a documented end, whole files, a plan once found, no remains."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.faults.commands import COMMANDS, DISTINCT, faults_of
from tests.faults.faults import FAULTS, unlock
from tests.faults.running import run

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="needs /proc, limits and chattr")
QUICK = (
    ("crews", "1 SIGINT after 0.7 s"),
    ("overtime", "killed after 0.7 s"),
    ("compare", "700 MiB of addresses"),
    ("compare", "1 SIGTERM after 0.7 s"),
    ("verify", "first child killed"),
    ("verify", "10 open files"),
    ("dashboard", "10 SIGINT after 2 s"),
    ("dashboard", "1 SIGHUP after 0 s"),
    ("risk", "clock +3600 s 1.5 s later"),
    ("enquiry", "folder locked"),
)
"""One of each kind; the whole matrix takes minutes."""

LONG = [(command, fault) for command in DISTINCT for fault in FAULTS]


@pytest.mark.parametrize(("name", "fault_name"), QUICK)
def test_a_command_meets_a_fault(name: str, fault_name: str, beside_plans: Path) -> None:
    meet(name, fault_name, beside_plans)


@pytest.mark.long
@pytest.mark.parametrize(("name", "fault_name"), LONG)
def test_every_command_meets_every_fault(name: str, fault_name: str, beside_plans: Path) -> None:
    meet(name, fault_name, beside_plans)


def meet(name: str, fault_name: str, folder: Path) -> None:
    command, fault = COMMANDS[name], FAULTS[fault_name]
    is_locked = fault_name == "folder locked"
    if is_locked and not can_be_locked(folder):
        pytest.skip("no folder can be locked here by chattr +i")
    temporary = folder.parent / "temporary"
    temporary.mkdir()
    try:
        ended = run(
            folder,
            command.line,
            command.then_ended(fault.do),
            before=fault.before,
            endless=command.makes_a_plan and "addresses" not in fault_name,
            **{"TMPDIR": str(temporary), **fault.environment},
        )
    finally:
        if is_locked:
            unlock(folder)
    told = f"{ended.code}\n{ended.out[-1500:]}\n{ended.err[-1500:]}"
    has_no_voice = "streams" in fault_name or "messages" in fault_name
    faults = faults_of(
        command,
        ended,
        folder,
        temporary,
        killed_by=fault.killed_by,
        is_heard=not has_no_voice,
        has_room="bytes" not in fault_name,
    )
    assert faults == [], told
    assert fault.killed_by or ended.code in fault.codes, told


def can_be_locked(folder: Path) -> bool:
    """Return whether a folder can be locked here, for root too."""
    if shutil.which("chattr") is None or os.geteuid() != 0:
        return False
    tried = folder / "tried"
    tried.mkdir()
    done = subprocess.run(["chattr", "+i", tried], capture_output=True, check=False)
    if done.returncode == 0:
        unlock(tried)
    tried.rmdir()
    return done.returncode == 0
