"""One measurement in a process of its own: ``python -m tests.bench.one_run WORK SEED SECONDS``.

What was found goes to the standard output as JSON.
"""

import json
import sys
from dataclasses import asdict

from tests.bench.works import WORKS


def main() -> None:
    """Make the base, plan it, and write what was found."""
    work, seed, seconds = WORKS[sys.argv[1]], int(sys.argv[2]), float(sys.argv[3])
    found = work.way(work.base(seed), seconds, seed)
    sys.stdout.write(json.dumps(asdict(found)))


if __name__ == "__main__":
    main()
