"""How many processor cores this process may use, and how many processes a search takes of them."""

import os
from pathlib import Path

FEWEST_WORKERS, MOST_WORKERS = 2, 64
"""Processes of a search: one that proves and one that finds plans, at the least."""

QUOTA = Path("/sys/fs/cgroup/cpu.max")
"""What a container may use, on Linux (control groups, version 2)."""


def cores_at_hand() -> int:
    """Return how many cores this process may use: those of the machine, or fewer given to it."""
    counted = getattr(os, "process_cpu_count", None)  # Python 3.13
    allowed = getattr(os, "sched_getaffinity", None)  # Linux
    if counted is not None:
        cores = counted()
    elif allowed is not None:
        cores = len(allowed(0))
    else:
        cores = os.cpu_count()
    return max(1, min(cores or 1, _quota()))


def usual_workers() -> int:
    """Return how many processes search where nobody says: one fewer than there are cores.

    The one left is for whoever coordinates them, with its audits, and for the person.
    """
    return min(max(cores_at_hand() - 1, FEWEST_WORKERS), MOST_WORKERS)


def _quota() -> int:
    """Return the whole cores of a container's quota; as many as can be where it has none."""
    try:
        quota, period = QUOTA.read_text(encoding="ascii").split()
        return max(1, int(quota) // int(period))
    except (OSError, ValueError):  # no such file, or "max" in it
        return MOST_WORKERS + 1
