"""Work of a job in a process of its own, so that pages are drawn while it goes on.

A search lays out a base, prices plans and audits them for seconds on end. In the server that would
hold up the pages of everybody: all threads of a Python process share one core.
"""

import contextlib
import logging
import pickle
import subprocess
from collections.abc import Callable
from pathlib import Path
from threading import Event, Thread
from typing import IO

from capacity.child_process import out_of_reach, python_command
from capacity.errors import CapacityError, InputError
from ui.desk.apart_child import Answered, BestSoFar, Broke, Refused
from ui.desk.job import Tell, Work

LOG = logging.getLogger(__name__)
ABOVE = Path(__file__).resolve().parents[2]
SECONDS_BETWEEN_LOOKS = 0.1

Rescue = Callable[[object, str], object]
"""Makes an answer of what was the best so far, and of why the process ended before its own."""


def apart(work: Work, rescue: Rescue | None = None) -> Work:
    """Return work that does the same in a process of its own; it has to be one that pickles.

    Its ``BestSoFar`` words are not passed on, but kept for ``rescue``, should it be killed.
    """

    def work_apart(tell: Tell, stop: Event) -> object:
        best: list[object] = []

        def hear(word: object) -> None:
            if isinstance(word, BestSoFar):
                best[:] = [word.value]
            else:
                tell(word)

        ended = _ended(work, hear, stop)
        if isinstance(ended, Answered):
            return ended.value
        if isinstance(ended, Refused):
            raise InputError(ended.messages)
        if isinstance(ended, Broke):
            LOG.error("work in a process of its own broke down\n%s", ended.details)
            raise CapacityError(ended.why)
        why = f"the process in which it was worked out ended before its time (code {ended})"
        if rescue is None or not best:
            raise CapacityError(f"{why}.")
        LOG.error("%s", why)
        return rescue(best[0], why)

    return work_apart


def _ended(work: Work, hear: Tell, stop: Event) -> object:
    """Return the last word of a process that does the work, or its code where it had none."""
    try:
        child = subprocess.Popen(
            python_command("ui.desk.apart_child", above=ABOVE),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            **out_of_reach(),
        )
    except OSError as fault:
        raise CapacityError(f"no process can be started ({fault.strerror}).") from fault
    assert child.stdin is not None
    assert child.stdout is not None
    is_over = Event()
    asking = (child.stdin, pickle.dumps(work), stop, is_over)
    sender = Thread(target=_send, args=asking, name="line to long work", daemon=True)
    try:
        sender.start()
        # An end in the middle of a word is one without a word.
        with contextlib.suppress(EOFError, OSError, pickle.UnpicklingError):
            while True:
                word = pickle.load(child.stdout)
                if isinstance(word, Answered | Refused | Broke):
                    return word
                hear(word)
        return child.wait()
    finally:
        is_over.set()
        child.kill()
        child.wait()
        child.stdout.close()
        if sender.ident is not None:
            sender.join()


def _send(line: IO[bytes], work: bytes, stop: Event, is_over: Event) -> None:
    """Send the work, and later the wish to stop; the line stays open until it is over."""
    with contextlib.suppress(OSError, ValueError), line:
        line.write(work)
        line.flush()
        while not is_over.wait(SECONDS_BETWEEN_LOOKS):
            if stop.is_set():
                line.write(b"stop")
                line.flush()
                is_over.wait()
