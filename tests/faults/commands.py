"""Every command with a tiny question, the files asked for, and what must hold at its end."""

import json
import subprocess
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest
from _pytest.mark.structures import ParameterSet

from capacity.cli import main
from capacity.commands.exits import Exit
from tests.faults.running import (
    ENQUIRY,
    HAS_A_PLAN,
    PLAN_OUT,
    STANDING,
    TAKEN_OUT,
    TINY,
    VERIFY,
    Doing,
    Ended,
    once_it_reads,
    sending,
)

ONE_AIRCRAFT = ("--type", "Alder 50", "--package", "Week check", "--earliest", "2027-01-04")
OLD, NEW = "../given/old.json", "../given/new.json"
A_SECOND = ("--seconds", "1")
SECONDS_TO_STAY = 2.0


@dataclass(frozen=True)
class Command:
    """A command line, and the files that it writes; it may have a plan to lose.

    One that ``stays`` never ends by itself.
    """

    name: str
    options: tuple[str, ...] = ()
    files: tuple[str, ...] = ()
    makes_a_plan: bool = False
    stays: bool = False
    reads: str = str(TINY)

    @property
    def line(self) -> tuple[str, ...]:
        """The arguments of the command line."""
        return (*self.name.split(), self.reads, *self.options)

    def then_ended(self, do: Doing) -> Doing:
        """Return what does something, and ends the command if that never ends by itself."""
        if not self.stays:
            return do

        def both(process: "subprocess.Popen[str]") -> None:
            do(process)
            once_it_reads(sending("SIGTERM"), SECONDS_TO_STAY)(process)

        return both


COMMANDS = {
    "verify": Command(VERIFY),
    "plan": Command(
        "plan",
        (*A_SECOND, PLAN_OUT, "a.json", "--out", "b.xlsx", "--calendar", "c.ics"),
        ("a.json", "b.xlsx", "c.ics"),
        makes_a_plan=True,
    ),
    "plan, workbook only": Command(
        "plan", (*A_SECOND, "--out", "b.xlsx"), ("b.xlsx",), makes_a_plan=True
    ),
    "plan, on paper": Command("plan", A_SECOND, makes_a_plan=True),
    "crews": Command(
        "crews",
        ("--plan", OLD, "--weeks", "1", *A_SECOND, "--out", "b.xlsx", "--calendars", "."),
        ("b.xlsx", "01-Mechanics.ics"),
    ),
    "crews, calendars only": Command(
        "crews",
        ("--weeks", "1", *A_SECOND, "--calendars", "."),
        ("01-Mechanics.ics",),
        makes_a_plan=True,
    ),
    "overtime": Command("overtime", ("--plan", OLD, *A_SECOND, "--out", "b.xlsx"), ("b.xlsx",)),
    "enquiry": Command(
        ENQUIRY,
        ("--plan", OLD, *ONE_AIRCRAFT, *A_SECOND, TAKEN_OUT, "a.json", "--out", "b.xlsx"),
        ("a.json", "b.xlsx"),
    ),
    "enquiry, booked": Command(
        ENQUIRY,
        (
            *("--plan", OLD, *ONE_AIRCRAFT, *A_SECOND, "--book", "anyway", "--name", "E-1"),
            *(PLAN_OUT, "a.json", "--booked-out", "b.xlsx", "--calendar", "c.ics"),
            *("--workbook-out", "d.xlsx"),
        ),
        ("a.json", "b.xlsx", "c.ics", "d.xlsx"),
    ),
    "enquiry, planned first": Command(
        ENQUIRY,
        ("--plan-seconds", "1", *ONE_AIRCRAFT, *A_SECOND, "--out", "b.xlsx"),
        ("b.xlsx",),
        makes_a_plan=True,
    ),
    "replan": Command(
        "replan",
        (
            *(STANDING, OLD, "--today", "2027-01-04", *A_SECOND, PLAN_OUT, "a.json"),
            *("--out", "b.xlsx", "--calendar", "c.ics", "--workbook-out", "d.xlsx"),
            *("--aircraft-on-ground", "Alder 50; 2 days; Mechanic 30"),
        ),
        ("a.json", "b.xlsx", "c.ics", "d.xlsx"),
        makes_a_plan=True,
    ),
    "compare": Command("compare", ("--plan", OLD, "--plan", NEW, "--out", "b.xlsx"), ("b.xlsx",)),
    "risk": Command(
        "risk", ("--plan", OLD, "--simulations", "100", "--out", "b.xlsx"), ("b.xlsx",)
    ),
    "explain": Command(
        "explain", ("--plan", OLD, *A_SECOND, "--worth", "--out", "b.xlsx"), ("b.xlsx",)
    ),
    "explain, moves": Command(
        "explain",
        ("--plan", OLD, "--move", "T3; Small bay; 2027-01-08", "--workbook-out", "d.xlsx"),
        ("d.xlsx",),
    ),
    "roll": Command(
        "roll",
        ("--plan", OLD, "--first-day", "2027-01-11", "--out", "b.xlsx", PLAN_OUT, "a.json"),
        ("a.json", "b.xlsx"),
    ),
    "learn": Command("learn", ("--out", "b.xlsx"), ("b.xlsx",)),
    "scenarios": Command(
        "scenarios",
        ("../given/scenarios.xlsx", "--plan", OLD, *A_SECOND, "--workers", "1", "--out", "b.xlsx"),
        ("b.xlsx",),
    ),
    "network": Command(
        "network",
        (*A_SECOND, "--out", "b.xlsx", "--plans-out", "."),
        ("01-West.json", "01-West.xlsx", "b.xlsx"),
        reads="../given/network.xlsx",
    ),
    "store": Command("store save", ("--plan", OLD, "--store", "../given/plans.sqlite")),
    "dashboard": Command("dashboard", ("--no-browser",), stays=True),
}
"""By what it is called in the tests."""

SEVERAL = {
    "plan, three workers": Command(
        "plan", (*A_SECOND, "--workers", "3", PLAN_OUT, "a.json"), ("a.json",), makes_a_plan=True
    ),
}
"""A search with more than two processes: what ends or kills any of them takes other ways."""

DISTINCT = {
    name: command
    for name, command in COMMANDS.items()
    if name not in {"plan, workbook only", "enquiry, planned first", "explain, moves"}
}
"""Those that take different ways through the program, for what takes minutes."""


def each(commands: Mapping[str, Command], *quick: str) -> list[ParameterSet]:
    """Return commands as parameters; all but the ``quick`` ones take minutes together."""
    return [
        pytest.param(command, id=name, marks=() if name in quick else pytest.mark.long)
        for name, command in commands.items()
    ]


def done_here(command: Command, capsys: pytest.CaptureFixture[str]) -> Ended:
    """Run a command in this process, and return how it ended."""
    with pytest.raises(SystemExit) as left:
        main(command.line)
    said = capsys.readouterr()
    return Ended(int(left.value.code or 0), said.out, said.err)


def faults_of(
    command: Command,
    ended: Ended,
    folder: Path,
    *others: Path,
    killed_by: int = 0,
    is_heard: bool = True,
    has_room: bool = True,
) -> list[str]:
    """Return what must not be, however a command ended in ``folder``: empty where all is well.

    Files may be kept in ``others``. ``killed_by`` is the signal that killed the command itself,
    which may leave its plan so far; one that is not ``is_heard`` has no stream to speak to,
    one that has not ``has_room`` may write nowhere, and has to say what is lost.
    """
    paths = [path for each in (folder, *others) for path in each.iterdir()]
    files = {path.name for path in paths}
    asked = set(command.files)
    kept = {name for name in files if "-kept" in name}
    said = ended.out + ended.err
    found = [f"half a file: {path.name}" for path in paths if not is_whole(path)]
    found += [f"left behind: {name}" for name in files - asked - kept]
    if killed_by and ended.code == -killed_by:  # it may have been done before
        return found
    if "Traceback" in said:
        found.append("a traceback")
    if ended.code not in set(Exit) - {Exit.FAULT, Exit.USAGE}:
        found.append(f"ended with {ended.code}")
    if ended.code == Exit.PLANNED and (files - kept != asked):
        found.append(f"answered without {asked - files}")
    if is_heard:
        if ended.code != Exit.PLANNED and not ended.err:
            found.append(f"ended with {ended.code} and not a word")
        found += [f"nobody is told of {name}" for name in kept if name not in said]
    if ended.code == Exit.CANNOT_WRITE:
        there = {Path(name).suffix for name in files}
        lost = {name for name in asked if Path(name).suffix not in there}
        if not has_room:
            lost = {name for name in lost if f"for {name} either: it is lost" not in ended.err}
        found += [f"lost: {name}" for name in lost]
    has_found_one = command.makes_a_plan and HAS_A_PLAN in ended.err
    if (
        has_found_one
        and has_room
        and ended.code != Exit.PLANNED
        and ".json" not in {p.suffix for p in paths}
    ):
        found.append("the plan is lost")
    return found


def is_whole(path: Path) -> bool:
    """Return whether a file is all there."""
    match path.suffix:
        case ".json":
            return bool(json.loads(path.read_text(encoding="utf-8"))["placements"])
        case ".xlsx":
            with zipfile.ZipFile(path) as book:
                return book.testzip() is None
        case ".ics":
            return path.read_bytes().endswith(b"END:VCALENDAR\r\n")
        case _:
            return False
