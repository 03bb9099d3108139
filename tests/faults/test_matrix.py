"""Every command meets every fault: a documented end, whole files, a plan once found, no remains."""

import os
import sys
from pathlib import Path

import pytest

from capacity.cli import QUESTIONS
from tests.faults.commands import COMMANDS, DISTINCT, SEVERAL, faults_of
from tests.faults.faults import FAULTS, LOCKED, can_be_locked, lock, unlock
from tests.faults.running import once_it_reads, run

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="needs /proc, limits and chattr")
QUICK = (
    ("crews", "1 SIGINT after 0.7 s"),
    ("compare", "700 MiB of addresses"),
    ("verify", "first child killed"),
    ("dashboard", "10 SIGINT after 2 s"),
    ("risk", "clock +3600 s 1.5 s later"),
    ("enquiry", LOCKED),
)
"""One of each kind; the long tests have many more."""

WHOLE = "WHOLE_FAULT_MATRIX"
"""Set in the environment, every command meets every fault: some twenty minutes."""
EVERY = 20
"""Otherwise each fault meets one command, another one each time."""

LONG = [
    (command, fault)
    for number, command in enumerate(DISTINCT)
    for place, fault in enumerate(FAULTS)
    if os.environ.get(WHOLE) or (number + place) % EVERY == 0
]
LONG += [
    ("plan, three workers", "fourth child killed"),
    ("plan, three workers", "1 SIGINT after 2 s"),
    ("plan, three workers", "children after the first killed"),
]


def test_every_command_is_among_them() -> None:
    """But two that read no workbook and plan nothing; what they write is tested where they are."""
    assert {command.name.split()[0] for command in COMMANDS.values()} == set(QUESTIONS) - {
        "samples",
        "new",
    }


@pytest.mark.parametrize(("name", "fault_name"), QUICK)
def test_a_command_meets_a_fault(name: str, fault_name: str, beside_plans: Path) -> None:
    meet(name, fault_name, beside_plans)


@pytest.mark.long
@pytest.mark.parametrize(("name", "fault_name"), LONG)
def test_commands_meet_faults(name: str, fault_name: str, beside_plans: Path) -> None:
    meet(name, fault_name, beside_plans)


def meet(name: str, fault_name: str, folder: Path) -> None:
    command, fault = {**COMMANDS, **SEVERAL}[name], FAULTS[fault_name]
    is_locked = fault_name == LOCKED
    if is_locked and not can_be_locked(folder):
        pytest.skip("no folder can be locked here by chattr +i")
    temporary = folder.parent / "temporary"
    temporary.mkdir()
    do = once_it_reads(lambda process: lock(folder)) if is_locked else fault.do
    try:
        ended = run(
            folder,
            command.line,
            command.then_ended(do),
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
    assert ended.code in fault.codes, told
