"""A limit of this process's address space is met before the libraries of solvers are loaded.

With too little of it, some of them say so, and others end the process with a code of their own,
crash, or wait for ever inside the loader, deaf to signals (seen with ``ulimit -v`` of 250 to
700 MiB; 1,000 were enough for the tiny sample).
"""

import mmap
import os
import sys

MEBIBYTE = 2**20
MEBIBYTES_TO_LOAD = 1024


def refuse_too_little() -> None:
    """Make sure that the libraries of solvers find room, and keep one of them from wanting more.

    OpenBLAS takes room for a thread a core while it is loaded; under a limit one must do. On
    a machine without a limit, and on systems without such limits, nothing is changed.

    Raises
    ------
    MemoryError
        When less than ``MEBIBYTES_TO_LOAD`` are left below the limit.
    """
    limit = _limit()
    if limit is None:
        return
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    try:
        mmap.mmap(-1, MEBIBYTES_TO_LOAD * MEBIBYTE).close()
    except OSError as fault:
        raise MemoryError(
            f"this process may have {limit // MEBIBYTE:,} MiB, as by ulimit -v, and needs more "
            f"than {MEBIBYTES_TO_LOAD:,} MiB"
        ) from fault


def _limit() -> int | None:
    """Return how many bytes of address space this process may have; None without a limit."""
    if sys.platform == "win32":
        return None
    import resource

    limit = resource.getrlimit(resource.RLIMIT_AS)[0]
    return None if limit == resource.RLIM_INFINITY else limit
