"""Hostile files, kept and made at random, as a person would meet them: by the command.

Each ends within 20 s of processor time (and what it takes to start) and 1 GiB, with a code that
WORKBOOK.md names, without a traceback, and with nothing raw for a terminal.
"""

import hashlib
import tempfile
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.hostile.budget import ANSWERED_OR_REFUSED, Run, run
from tests.hostile.mutants import mutant_plan_file, mutant_tables, mutant_workbook
from tests.hostile.parts import TINY
from tests.hostile.plan_files import CHANGES as PLAN_FILES
from tests.hostile.plan_files import hostile_plan_file, valid_plan_file
from tests.hostile.seed import SEED, VARIABLE
from tests.hostile.tables import CHANGES as TABLES
from tests.hostile.tables import hostile_tables, valid_tables, write_tables
from tests.hostile.workbooks import ARCHIVES, CHANGES, hostile_workbook

SOME_WORKBOOKS = ("row two thousand million", "parts that overlap")
SOME_TABLES = ("escapes of the terminal",)
SOME_PLAN_FILES = ("nested lists",)
CREW_PLANS = ("years in a bay", "escapes of the terminal")
IN_BOTH_CORES = 2


@pytest.fixture(scope="module")
def plan(tmp_path_factory) -> Path:
    return valid_plan_file(tmp_path_factory.mktemp("plan"))


def faults_of(names: Iterable[str], one: Callable[[str, Path], list[str]]) -> dict[str, list[str]]:
    """Return what is wrong with each, by its name, leaving out those that are well."""

    def in_a_folder(name: str) -> tuple[str, list[str]]:
        with tempfile.TemporaryDirectory() as folder:
            return name, one(name, Path(folder))

    with ThreadPoolExecutor(IN_BOTH_CORES) as pool:
        return {name: faults for name, faults in pool.map(in_a_folder, names) if faults}


def checked(path: Path) -> list[str]:
    """Return what is wrong when a file is checked; that it was changed is a fault too."""
    before = _content(path)
    faults = run("verify", path).faults()
    return faults if _content(path) == before else [*faults, "the file was changed"]


def _content(path: Path) -> list[tuple[str, str]]:
    files = sorted(path.iterdir()) if path.is_dir() else [path]
    return [(file.name, hashlib.sha256(file.read_bytes()).hexdigest()) for file in files]


def compared(plan: Path, hostile: Path) -> list[str]:
    return run("compare", TINY, "--plan", plan, "--plan", hostile).faults()


def workbook(name: str, folder: Path) -> list[str]:
    return checked(hostile_workbook(name, folder))


def tables(name: str, folder: Path) -> list[str]:
    return checked(hostile_tables(name, folder))


def plan_file(plan: Path) -> Callable[[str, Path], list[str]]:
    return lambda name, folder: compared(plan, hostile_plan_file(name, plan, folder))


def test_some_hostile_files_are_read_or_refused_within_bounds(plan):
    assert faults_of(SOME_WORKBOOKS, workbook) == {}
    assert faults_of(SOME_TABLES, tables) == {}
    assert faults_of(SOME_PLAN_FILES, plan_file(plan)) == {}


def mutants(count: int, plan: Path, of: tuple[str, ...] = ("workbook", "tables", "plan")) -> None:
    """See that this run's first so many mutants of each kind are within bounds."""

    def one(seed: str, folder: Path) -> list[str]:
        if "plan" in seed:
            return compared(plan, mutant_plan_file(seed, plan, folder))
        made = mutant_workbook if "workbook" in seed else mutant_tables
        return checked(made(seed, folder))

    seeds = [f"{SEED} {kind} {number}" for number in range(count) for kind in of]
    assert faults_of(seeds, one) == {}, f"{VARIABLE}={SEED} makes the same mutants again"


def test_a_few_mutants_are_read_or_refused_within_bounds(plan):
    mutants(1, plan)


@pytest.mark.long
@pytest.mark.timeout(1200)
def test_all_hostile_workbooks_are_read_or_refused_within_bounds():
    assert faults_of([*CHANGES, *ARCHIVES], workbook) == {}


@pytest.mark.long
@pytest.mark.timeout(1200)
def test_all_hostile_tables_are_read_or_refused_within_bounds():
    assert faults_of(TABLES, tables) == {}


@pytest.mark.long
@pytest.mark.timeout(1200)
def test_all_hostile_plan_files_are_read_or_refused_within_bounds(plan):
    def crews(name: str, folder: Path) -> list[str]:
        hostile = hostile_plan_file(name, plan, folder)
        done = run("crews", TINY, "--plan", hostile, "--seconds", "1")
        return done.faults(ANSWERED_OR_REFUSED)

    assert faults_of(PLAN_FILES, plan_file(plan)) == {}
    assert faults_of(CREW_PLANS, crews) == {}


@pytest.mark.long
@pytest.mark.timeout(1200)
def test_many_mutants_are_read_or_refused_within_bounds(plan):
    mutants(12, plan)


def test_the_files_that_are_damaged_are_valid_before(tmp_path):
    """Else a mutant would be refused for another reason than its damage."""
    assert run("verify", TINY).code == 0
    folder = write_tables(valid_tables(), tmp_path / "tables")
    assert run("verify", folder).code == 0


def test_the_same_seed_makes_the_same_mutants(tmp_path):
    made = []
    for folder in (tmp_path / "one", tmp_path / "other"):
        folder.mkdir()
        tables = mutant_tables("7 tables 1", folder)
        made.append([_content(tables), _content(mutant_workbook("7 workbook 1", folder))[0][0]])
    assert made[0] == made[1]


def test_a_run_beyond_its_budget_is_a_fault():
    """What these tests would see: each of the limits by itself."""
    assert Run(0, "fine", 1.0, 2**20).faults() == []
    assert Run(-9, "fine", 1.0, 2**20).faults() == ["ended with -9: fine"]
    assert "traceback" in Run(1, "error\nTraceback (most ...", 1.0, 2**20).faults()[0]
    assert "processor time" in Run(0, "fine", 40.0, 2**20).faults()[0]
    assert "GiB" in Run(0, "fine", 1.0, 2**31).faults()[0]
    assert "raw" in Run(0, "\x1b[31m", 1.0, 2**20).faults()[0]
    assert "characters" in Run(0, "x" * 6_000_000, 1.0, 2**20).faults()[0]
    assert "without an error" in Run(1, "fine", 1.0, 2**20).faults()[0]
    assert "behind" in Run(0, "fine", 1.0, 2**20, ("a",)).faults()[0]


def test_a_run_is_measured():
    done = run("verify", TINY)
    assert done.cpu_seconds > 0.1
    assert 2**24 < done.bytes < 2**29
