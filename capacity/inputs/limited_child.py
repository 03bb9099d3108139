"""The child in which a file is read: ``python_command("capacity.inputs.limited_child", "1234")``.

1234 is the number of the process that waits for the answer. What to do comes in by standard
input; the answer goes out by what was standard output.
"""

import importlib
import os
import pickle
import signal
import sys
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum, auto
from types import FrameType

from capacity.errors import InputError

SECONDS_BETWEEN_LOOKS = 0.2


@dataclass(frozen=True, slots=True)
class Limits:
    """What the child may take: seconds of processor time, and bytes of addresses."""

    cpu_seconds: int
    bytes: int


class Ended(Enum):
    """How the work ended."""

    DONE = auto()
    INPUT_ERROR = auto()
    OUT_OF_MEMORY = auto()
    FAILED = auto()


def limit_this_process(limits: Limits) -> None:
    """Bound processor time and memory where the system can; no file of its memory is kept."""
    if sys.platform == "win32":  # where the waiting side's clock is the only bound
        return
    import resource

    for limit, most in (
        (resource.RLIMIT_CPU, limits.cpu_seconds),
        (resource.RLIMIT_AS, limits.bytes),
        (resource.RLIMIT_CORE, 0),
    ):
        _, hard = resource.getrlimit(limit)
        if hard == resource.RLIM_INFINITY or most < hard:
            resource.setrlimit(limit, (most, hard))


def end_with(parent: int) -> None:
    """End this process soon after its parent has gone: nobody would hear its answer.

    The system gives a child without a parent another one. A timer looks, not a thread, whose
    memory would count among what the file may take.
    """

    def look(number: int, frame: FrameType | None) -> None:
        if os.getppid() != parent:
            os._exit(1)

    if sys.platform != "win32":
        signal.signal(signal.SIGALRM, look)
        signal.setitimer(signal.ITIMER_REAL, SECONDS_BETWEEN_LOOKS, SECONDS_BETWEEN_LOOKS)


def function_of(work: str) -> Callable[..., object]:
    """Return a function named as ``module:function``, a module of this room or a whole name."""
    module, function = work.split(":")
    whole = module if module.startswith("capacity.") else f"capacity.inputs.{module}"
    do: Callable[..., object] = getattr(importlib.import_module(whole), function)
    return do


def how_it_ended(do: Callable[[], object]) -> tuple[Ended, object]:
    """Do it, and return how that ended and with what."""
    try:
        return Ended.DONE, do()
    except InputError as fault:
        return Ended.INPUT_ERROR, fault.messages
    except MemoryError:
        return Ended.OUT_OF_MEMORY, None
    except Exception:
        return Ended.FAILED, traceback.format_exc()


def main() -> None:
    """Do what is asked, and say how it ended and with what."""
    end_with(int(sys.argv[1]))
    outgoing = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())

    def do() -> object:
        limits, work, arguments = pickle.load(sys.stdin.buffer)
        limit_this_process(limits)
        return function_of(work)(*arguments)

    answer = how_it_ended(do)
    with outgoing:
        pickle.dump(answer, outgoing)


if __name__ == "__main__":
    # Under its full name, so that both ends mean the same classes.
    from capacity.inputs.limited_child import main as main_by_its_name

    main_by_its_name()
