"""How the tests run: all of them on several processors, random examples the same ones in CI."""

import os
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import settings

from tests.hostile.seed import SEED, VARIABLE
from tests.read_once import read_each_file_once

MOST_WORKERS = 4  # each has a copy of all libraries, and starts searches of two processes
QUICK = "not long"  # as pyproject.toml has it
# Files that take long come first, so that no processor waits for the last one at the end.
FIRST = ("tests/browser/", "tests/slots/", "tests/reference/", "tests/faults/", "tests/questions/")

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
    """Keep the tests of a file together, who share fixtures, and those of the one browser."""
    from xdist.scheduler import LoadFileScheduling

    class ByFile(LoadFileScheduling):
        def _split_scope(self, nodeid: str) -> str:
            file = super()._split_scope(nodeid)
            return "tests/browser" if file.startswith("tests/browser/") else file

    return ByFile(config, log) if config.option.dist == "loadfile" else None


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the folders that take longest."""

    def turn(item: pytest.Item) -> int:
        starts: Sequence[bool] = [item.nodeid.startswith(folder) for folder in FIRST]
        return starts.index(True) if any(starts) else len(FIRST)

    items.sort(key=turn)


def pytest_report_header() -> str:
    """Say with which seed valid files are damaged in this run."""
    return f"damaged files: {VARIABLE}={SEED}"


@pytest.fixture
def reads_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Start a child process to read a file only where its answer is not known yet."""
    read_each_file_once(monkeypatch)
