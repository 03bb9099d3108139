"""Formatting, lint and types, as part of the tests, so that there is one command to run."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize(
    "tool",
    [
        ("ruff", "format", "--check", "."),
        ("ruff", "check", "."),
        ("mypy", "--strict", "capacity", "ui"),
    ],
    ids=" ".join,
)
def test_the_sources_pass(tool):
    done = subprocess.run(
        [sys.executable, "-m", *tool], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
