"""A machine whose clock is set to another hour.

Python imports this by itself in every process that has this folder in PYTHONPATH.
"""

import os
import time

_JUMP = float(os.environ.get("JUMP_SECONDS", "0"))
_TRUE = time.time


def _jumped() -> float:
    return _TRUE() + _JUMP


time.time = _jumped
