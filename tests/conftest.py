"""How the tests run: all of them on several processors, random examples the same ones in CI."""

import os
import sys
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import settings

from tests.hostile.seed import SEED, VARIABLE
from tests.read_once import read_each_file_once

MOST_WORKERS = 4  # each has a copy of all libraries, and starts searches of two processes
QUICK = "not long"  # as pyproject.toml has it
# With two processors one compiles all rounds of the search while the other looks at types, which
# needs none: so nothing is compiled twice. Then come files that take long, so that no processor
# waits for the last one at the end.
FIRST = (
    "tests/slots/program/test_levelling.py",
    "tests/test_style.py",
    "tests/slots/candidates/test_places.py",
    "tests/hostile/",
    "tests/release/",
    "tests/test_platforms.py",
    "tests/browser/",
    "tests/slots/",
    "tests/test_words.py",
    "tests/ui/pages/",
    "tests/reference/",
    "tests/faults/",
    "tests/questions/",
)

# Hundreds of child processes would each compile the same sources: what Python compiles is kept
# beside them, whatever the environment says.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

settings.register_profile("ci", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("ci")


@pytest.hookimpl(tryfirst=True)
def pytest_cmdline_main(config: pytest.Config) -> None:
    """Run the whole suite on several processors; files or folders that are named, in one process.

    So are the long tests, some of which use all processors themselves, or measure how long a
    person waits. ``-n`` says otherwise, and without pytest-xdist there is one process.
    """
    whole = config.args_source is pytest.Config.ArgsSource.TESTPATHS
    whole = whole and config.option.markexpr == QUICK
    worker = "PYTEST_XDIST_WORKER" in os.environ
    if not whole or worker or not config.pluginmanager.hasplugin("xdist"):
        return
    if config.option.numprocesses is None and not config.option.usepdb:
        config.option.numprocesses = "auto"
        config.option.maxprocesses = config.option.maxprocesses or MOST_WORKERS
        config.option.dist = "loadfile"
        config.option.loadscopereorder = False


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Keep the tests of a file together, and in a quick run those of the browser: they share it.

    Of the long tests each goes by itself, so that none waits behind others; but for those of the
    built package, whose environment is made once.
    """
    from xdist.scheduler import LoadFileScheduling, LoadScopeScheduling

    class ByFile(LoadFileScheduling):
        def _split_scope(self, nodeid: str) -> str:
            file = super()._split_scope(nodeid)
            in_one = config.option.markexpr == QUICK and file.startswith("tests/browser/")
            return "tests/browser" if in_one else file

    class OneByOne(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            return "tests/release" if nodeid.startswith("tests/release/") else nodeid

    scheduler = {"loadfile": ByFile, "loadscope": OneByOne}.get(config.option.dist)
    return None if scheduler is None else scheduler(config, log)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with what is compiled, and with what takes longest."""

    def turn(item: pytest.Item) -> int:
        starts: Sequence[bool] = [item.nodeid.startswith(folder) for folder in FIRST]
        return starts.index(True) if any(starts) else len(FIRST)

    items.sort(key=turn)


def pytest_report_header() -> str:
    """Say with which seed valid files are damaged in this run."""
    return f"damaged files: {VARIABLE}={SEED}"


@pytest.fixture
def reads_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Read files in this process, each once, and start no child for them."""
    read_each_file_once(monkeypatch)
