"""One side of the search as a process of its own: ``python -P -m capacity.slots.search.side find``.

The sides are ``prove``, ``find``, and further ones that find plans: ``find-2`` and so on.

Words go in by standard input and out by what was standard output; whatever a library
prints goes to standard error instead.
"""

import os
import sys
import traceback

from capacity.giving_way import give_way
from capacity.slots.line.mailbox import Mailbox
from capacity.slots.line.naming import PROVING, kind_of
from capacity.slots.line.reports import Failed, Remark

MOST_LETTERS = 200


def main(side: str) -> None:
    """Do the side's work and end; end at once when the coordinator is gone."""
    outgoing = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    give_way()
    mailbox = Mailbox(sys.stdin.buffer, outgoing, on_hang_up=lambda: os._exit(0))
    try:
        _work(side, mailbox)
    except Exception as fault:
        said = f"{type(fault).__name__}: {fault}".partition("\n")[0][:MOST_LETTERS]
        mailbox.tell(Failed(f"it broke down: {said}", traceback.format_exc()))
    # The thread that listens is never done, which Python at its end takes for a fault.
    os._exit(0)


def _work(side: str, mailbox: Mailbox) -> None:
    """Do one side's work. What only one of them needs is imported by that one."""
    if kind_of(side) == PROVING:
        from capacity.slots.proving.side import prove

        prove(mailbox)
        return
    from capacity.slots.finding.compiled_code import tell_trouble_to
    from capacity.slots.finding.side import find_plans

    tell_trouble_to(lambda why: mailbox.tell(_not_kept(why)))
    find_plans(mailbox)


def _not_kept(why: str) -> Remark:
    return Remark(
        "the compiled part of the search could not be kept for the next run, so each run compiles "
        f"it again, which takes some of its time ({why.strip('.')[:MOST_LETTERS]}).",
        "Name a folder that may be written in the environment variable NUMBA_CACHE_DIR.",
    )


if __name__ == "__main__":
    main(sys.argv[1])
