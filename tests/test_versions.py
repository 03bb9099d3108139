"""The versions that an answer names, looked up beside threads that change the path."""

import importlib.metadata
import sys
from threading import Event, Thread

from capacity.planning import PACKAGES, versions


def test_every_package_is_named_as_it_is_installed():
    found = versions()
    assert {package: found[package] for package in PACKAGES} == {
        package: importlib.metadata.version(package) for package in PACKAGES
    }


def test_a_path_that_another_thread_changes_hides_no_package():
    # A dashboard's script does this with each run while a job plans in a thread of its own.
    told = versions()
    over = Event()

    def shake() -> None:
        while not over.is_set():
            sys.path.insert(0, "no-such-folder")
            sys.path.remove("no-such-folder")

    shaking = Thread(target=shake)
    shaking.start()
    try:
        for _ in range(100):
            assert versions() == told
    finally:
        over.set()
        shaking.join()
