"""Random examples are new ones on a developer's machine, and the same ones every time in CI."""

import os

from hypothesis import settings

from tests.hostile.seed import SEED, VARIABLE

settings.register_profile("ci", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("ci")


def pytest_report_header() -> str:
    """Say with which seed valid files are damaged in this run."""
    return f"damaged files: {VARIABLE}={SEED}"
