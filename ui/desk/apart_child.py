"""The process in which work of a job is done: ``python -P -m ui.desk.apart_child``.

Work comes in by standard input, and what it tells and comes to goes out by what was standard
output. A byte after the work asks it to stop; when the line ends, the server is gone.
"""

import os
import pickle
import sys
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from threading import Event, Thread
from typing import IO

from capacity.errors import CapacityError, InputError
from capacity.giving_way import give_way
from capacity.messages import Message
from capacity.plans.outcome import Progress

SECONDS_BETWEEN_WORDS = 0.3
"""A page looks twice a second; words between that say nothing new are not sent."""


@dataclass(frozen=True, slots=True)
class BestSoFar:
    """A word for the server alone: what could be answered if this process ended now."""

    value: object


@dataclass(frozen=True, slots=True)
class Answered:
    """What the work came to."""

    value: object


@dataclass(frozen=True, slots=True)
class Refused:
    """The input has errors."""

    messages: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Broke:
    """The work broke down; ``details`` are for the log."""

    why: str
    details: str


def main() -> None:
    """Do the work, and say what it came to."""
    outgoing = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())  # whatever a library prints
    give_way()
    work = pickle.load(sys.stdin.buffer)
    stop = Event()
    Thread(target=_listen, args=(sys.stdin.buffer, stop), daemon=True).start()
    pickle.dump(_answer(work, _teller(outgoing), stop), outgoing)
    outgoing.flush()
    os._exit(0)  # the thread that listens is never done


def _answer(
    work: Callable[[Callable[[object], None], Event], object],
    tell: Callable[[object], None],
    stop: Event,
) -> Answered | Refused | Broke:
    try:
        return Answered(work(tell, stop))
    except InputError as fault:
        return Refused(fault.messages)
    except CapacityError as fault:
        return Broke(str(fault), traceback.format_exc())
    except Exception as fault:  # a page must be told whatever it was
        return Broke(f"{type(fault).__name__}: {fault}", traceback.format_exc())


def _teller(outgoing: IO[bytes]) -> Callable[[object], None]:
    last: object = None
    told_at = 0.0

    def tell(word: object) -> None:
        nonlocal last, told_at
        now = time.monotonic()
        if _says_the_same(word, last) and now - told_at < SECONDS_BETWEEN_WORDS:
            return
        pickle.dump(word, outgoing)
        outgoing.flush()
        if not isinstance(word, BestSoFar):
            last, told_at = word, now

    return tell


def _says_the_same(word: object, last: object) -> bool:
    if not isinstance(word, Progress) or not isinstance(last, Progress):
        return False
    now, before = ((one.days_past, one.money, one.bound) for one in (word, last))
    return now == before


def _listen(incoming: IO[bytes], stop: Event) -> None:
    while incoming.read(1):
        stop.set()
    os._exit(1)


if __name__ == "__main__":
    # By its own name, so that what it says is of the classes that the server knows.
    from ui.desk import apart_child

    apart_child.main()
