"""A wish to stop, by Ctrl-C or a signal of the system: heard at once, and never twice.

Work that looks at an event ends well by itself, with what it has. A second Ctrl-C that broke in
while it writes would lose what the first one was to keep.
"""

import signal
import socket
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from threading import Event, Thread, current_thread, main_thread
from types import FrameType

NAMES = ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")
"""What people and systems send to end a program; not all are known everywhere."""

A_MOMENT = "Stopping: the best answer so far is looked over and written; a moment."
LOOK_EVERY_SECONDS = 0.1


class StopSignals:
    """Signals while a command runs.

    The first one sets the event ``asked``. Until somebody heeds that, it also breaks in, as a
    ``KeyboardInterrupt``: there is nothing to keep yet. All further ones are passed over.
    """

    def __init__(self) -> None:
        """Begin with nothing asked."""
        self.asked = Event()
        self._is_heeded = False
        self._has_broken_in = False
        self._has_told = False
        self._numbers: frozenset[int] = frozenset()

    def heeded(self) -> Event:
        """Return the event to look at; from now on no signal breaks in."""
        self._is_heeded = True
        return self.asked

    @contextmanager
    def breaking_in(self) -> Iterator[None]:
        """Let a signal break in, for work that looks at no event."""
        self._is_heeded = self._has_broken_in = False
        try:
            yield
        finally:
            self._is_heeded = True

    @contextmanager
    def heard(self, *, to_the_end: bool = False) -> Iterator[None]:
        """Hear signals, those that were not ignored before; ``to_the_end`` of the process.

        A command that was started with ``nohup`` goes on when its terminal is closed.
        """
        if current_thread() is not main_thread():  # where no signal can be heard
            yield
            return
        known = [getattr(signal, name) for name in NAMES if hasattr(signal, name)]
        before = {n: signal.getsignal(n) for n in known if signal.getsignal(n) != signal.SIG_IGN}
        self._numbers = frozenset(before)
        reading, writing = socket.socketpair()
        writing.setblocking(False)
        wakes = signal.set_wakeup_fd(writing.fileno(), warn_on_full_buffer=False)
        for number in before:
            signal.signal(number, self._hear)
        watcher = Thread(target=self._watch, args=(reading,), daemon=True)
        with suppress(RuntimeError, MemoryError):  # then they are heard after a solver
            watcher.start()
        try:
            yield
        finally:
            if to_the_end:  # at which Python gives signals back to the system, and they would kill
                for number in before:
                    signal.signal(number, signal.SIG_IGN)
            else:
                signal.set_wakeup_fd(wakes)
                for number, handler in before.items():
                    signal.signal(number, handler)
                writing.close()
                if watcher.ident is not None:
                    watcher.join()
                reading.close()

    def _hear(self, number: int, frame: FrameType | None) -> None:
        self.asked.set()
        if not self._is_heeded and not self._has_broken_in:
            self._has_broken_in = True
            raise KeyboardInterrupt

    def _watch(self, reading: socket.socket) -> None:
        """Set the event also while the main thread is deep in a solver."""
        while word := reading.recv(1):
            if word[0] in self._numbers:
                self.asked.set()
                self._tell()

    def _tell(self) -> None:
        if self._is_heeded and not self._has_told and sys.stderr is not None:
            self._has_told = True
            with suppress(OSError, ValueError):
                sys.stderr.write(f"\n{A_MOMENT}\n")
                sys.stderr.flush()


@contextmanager
def ended_by(stop: Event, end: Callable[[], object]) -> Iterator[None]:
    """Have a solver's work ended by ``end`` soon after ``stop`` is set."""
    is_done = Event()

    def watch() -> None:
        while not is_done.wait(LOOK_EVERY_SECONDS):
            if stop.is_set():
                end()

    watcher = Thread(target=watch, daemon=True)
    watcher.start()
    try:
        yield
    finally:
        is_done.set()
        watcher.join()
