"""A machine whose clock is set to another hour, from the beginning or a little later.

Python imports this by itself in every process that has this folder in PYTHONPATH.
"""

import os
import time

_JUMP = float(os.environ.get("JUMP_SECONDS", "0"))
_FROM = time.monotonic() + float(os.environ.get("JUMP_AFTER_SECONDS", "0"))
_TRUE = time.time


def _jumped() -> float:
    return _TRUE() + (_JUMP if time.monotonic() >= _FROM else 0.0)


time.time = _jumped
