"""One side of the search as a process of its own: ``python -m capacity.slots.side find``.

Words go in by standard input and out by what was standard output; whatever a library
prints goes to standard error instead.
"""

import contextlib
import os
import sys
import traceback

from capacity.slots.finding_side import find_plans
from capacity.slots.mailbox import Mailbox
from capacity.slots.messages import Failed
from capacity.slots.proving_side import prove

SIDES = {"find": find_plans, "prove": prove}
NICENESS = 5


def main(side: str) -> None:
    """Do the side's work and end; end at once when the coordinator is gone."""
    outgoing = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    with contextlib.suppress(AttributeError, OSError):
        os.nice(NICENESS)  # leave the person's other programs, a browser page too, the first turn
    mailbox = Mailbox(sys.stdin.buffer, outgoing, on_hang_up=lambda: os._exit(0))
    try:
        SIDES[side](mailbox)
    except Exception:
        mailbox.tell(Failed(traceback.format_exc()))
    # The thread that listens is never done, which Python at its end takes for a fault.
    os._exit(0)


if __name__ == "__main__":
    main(sys.argv[1])
