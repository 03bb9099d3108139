"""Files are read in this process: these tests roll many of them, and trust them all."""

import importlib
from pathlib import Path

import pytest

from capacity.inputs import limited


@pytest.fixture(autouse=True)
def in_this_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Call what a child process would; ``tests/inputs/test_limited.py`` tests the child."""

    def call(still_wanted: limited.Wanted, work: str, path: Path, *more: object) -> object:
        module, function = work.split(":")
        return getattr(importlib.import_module(f"capacity.inputs.{module}"), function)(path, *more)

    monkeypatch.setattr(limited, "_within_limits", call)
