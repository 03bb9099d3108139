"""Random examples are new ones on a developer's machine, and the same ones every time in CI."""

import os

from hypothesis import settings

settings.register_profile("ci", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("ci")
