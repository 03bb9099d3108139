"""How much memory a process and all its children hold at one moment, on Linux."""

from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

PROC = Path("/proc")
BYTES_PER_KIB = 1024
GIB = 1024**3


def tree_gib(process: int) -> float | None:
    """Return what the process and its children hold, in GiB; None where it cannot be read.

    Pages shared by several processes count in each by its share, so that the sum is what the
    machine holds.
    """
    kib = [_proportional_kib(one) for one in _tree(process)]
    known = [size for size in kib if size is not None]
    return sum(known) * BYTES_PER_KIB / GIB if known else None


def _tree(process: int) -> Iterator[int]:
    children = defaultdict(list)
    for stat in PROC.glob("[0-9]*/stat"):
        try:
            # The name in brackets may hold anything; the parent is the second field after it.
            _, _, rest = stat.read_text(encoding="utf-8").rpartition(")")
        except OSError:
            continue  # it has ended meanwhile
        children[int(rest.split()[1])].append(int(stat.parent.name))
    todo = [process]
    while todo:
        one = todo.pop()
        yield one
        todo += children[one]


def _proportional_kib(process: int) -> int | None:
    try:
        lines = (PROC / str(process) / "smaps_rollup").read_text(encoding="utf-8").splitlines()
    except OSError:
        return None
    return next((int(line.split()[1]) for line in lines if line.startswith("Pss:")), None)
