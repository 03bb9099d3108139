"""How a process that searches gives way to people and their pages, told to it by who begins it."""

import contextlib
import os
import sys
import time
from pathlib import Path

VARIABLE = "CAPACITY_NICENESS"
"""The environment variable by which the dashboard tells its searches how far they give way."""

BEHIND_THE_PAGES = "15"
"""Of searches that the dashboard begins: beside one page that is drawn they get 1 part in 30.

When nothing else is to be done they have the whole machine, as without it.
"""

USUAL = 5

GROUP = Path("/proc/self/autogroup")
ATTEMPTS, SECONDS_BETWEEN = 20, 0.06


def give_way() -> None:
    """Let this process have its turn after others that have more need of it; where it can.

    On Linux a process that began a session of its own, as a search does so that Ctrl-C does not
    reach it, is weighed as a group (``sched_autogroup_enabled``, sched(7)): its niceness counts
    within that group alone, and only that of the group counts beside the server. Both are set
    where the dashboard asks for it. A system that has no such groups has no such file.
    """
    if sys.platform == "win32":
        return
    told = os.environ.get(VARIABLE, "")
    with contextlib.suppress(OSError):
        if not told.isdecimal():
            os.nice(USUAL)
            return
        # As far as told and no farther: a process and the sides of the search that it began, each
        # told the same, have to be equals, or the one waits for the others.
        os.nice(max(0, int(told) - os.nice(0)))
        if sys.platform == "linux":
            _weigh_group(int(told))


def _weigh_group(niceness: int) -> None:
    """Set the niceness of this session's group; the system takes ten of these a second in all."""
    for _ in range(ATTEMPTS):
        try:
            GROUP.write_text(str(niceness), encoding="ascii")
        except BlockingIOError:
            time.sleep(SECONDS_BETWEEN)
        except OSError:
            return
        else:
            return
