"""The server ends when it is told to, and when the command that began it is gone."""

import os
import signal
import sys
import threading
import time
from contextlib import suppress
from types import FrameType
from typing import NoReturn

SECONDS_TO_END = 10.0
"""After so long without an end in peace the server ends at once; searches end with it."""


DRAWS_A_PAGE = "ScriptRunner"
"""How the names of Streamlit's threads begin in which a page is drawn."""


def end_by_signals() -> None:
    """End in peace by every signal that asks for it, a closed terminal's too."""
    signal.signal(signal.SIGTERM, _leave)
    closed = getattr(signal, "SIGHUP", None)  # not on every system
    if closed is not None and signal.getsignal(closed) is not signal.SIG_IGN:
        signal.signal(closed, lambda number, frame: signal.raise_signal(signal.SIGTERM))


def end_with(pipe: int) -> None:
    """End when the other side of a pipe is closed: by the command, or by its death of any kind.

    ``pipe`` is the descriptor to read from. Unlike signals it tells of a ``kill -9`` too, and on
    every system.
    """

    def watch() -> None:
        while os.read(pipe, 1):
            pass
        hard_end = threading.Timer(SECONDS_TO_END, os._exit, (0,))
        hard_end.daemon = True
        hard_end.start()
        signal.raise_signal(signal.SIGTERM)

    threading.Thread(target=watch, name="watcher of the command", daemon=True).start()


def leave(code: int, seconds: float = 5.0) -> NoReturn:
    """Leave once no page is being drawn, which may be reading an upload, or after a while.

    A search that is still inside a solver's library would make the end of the interpreter
    abort (``terminate called``), so that is left out.
    """
    give_up = time.monotonic() + seconds
    for thread in threading.enumerate():
        if thread.name.startswith(DRAWS_A_PAGE):
            thread.join(max(0.0, give_up - time.monotonic()))
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError, AttributeError):  # closed, or there is none
            stream.flush()
    os._exit(code)


def _leave(number: int, frame: FrameType | None) -> None:
    """Leave so that what is registered for the end is still done."""
    sys.exit(0)
