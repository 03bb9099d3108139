"""One piece of long work in a thread of its own, outside the thread that draws a page.

A page only looks at it: the thread that draws is abandoned and begun anew at every click.
Searches do their heavy work in child processes; this thread waits for their words.
"""

import logging
import threading
import time
from collections.abc import Callable
from enum import Enum
from threading import Event, Lock, Thread

from capacity.errors import CapacityError, InputError
from capacity.messages import Message
from ui.desk.turns import Turns

LOG = logging.getLogger(__name__)

MOST_AT_ONCE = 3
"""Jobs that work at the same time; further ones wait, so that none is starved."""

TURNS = Turns(MOST_AT_ONCE)

Tell = Callable[[object], None]
Work = Callable[[Tell, Event], object]
"""Long work: it tells how it goes, ends soon once the event is set, and returns its answer."""

Keep = Callable[[list[object], object], None]


class State(Enum):
    """Where a job stands."""

    WAITING = "waiting"
    WORKING = "working"
    DONE = "done"
    FAILED = "failed"


def keep_all(words: list[object], word: object) -> None:
    """Keep every word."""
    words.append(word)


class Job:
    """Work that goes on; any thread may look at it or stop it.

    ``seconds`` is the time that it was given, to show how far it is; ``keep`` says which of
    its words are kept.
    """

    def __init__(
        self,
        work: Work,
        seconds: float,
        keep: Keep = keep_all,
        turns: Turns = TURNS,
        on_end: Callable[[], None] = lambda: None,
    ) -> None:
        """Begin at once, or as soon as there is a turn; ``on_end`` is called when it is over."""
        self.limit = seconds
        self._on_end = on_end
        self._work, self._keep, self._turns = work, keep, turns
        self._lock = Lock()
        self._stop = Event()
        self._state = State.WAITING
        self._words: list[object] = []
        self._began: float | None = None
        self.answer: object = None
        self.failure = ""
        self.refusal: tuple[Message, ...] = ()
        self._thread = Thread(target=self._run, name="long work", daemon=True)
        self._thread.start()

    @property
    def state(self) -> State:
        """Where the job stands."""
        with self._lock:
            return self._state

    @property
    def is_live(self) -> bool:
        """Whether it is still to come to an end."""
        return self.state in (State.WAITING, State.WORKING)

    @property
    def is_stopping(self) -> bool:
        """Whether somebody has stopped it and it has not ended yet."""
        return self._stop.is_set() and self.is_live

    @property
    def seconds(self) -> float:
        """Seconds since the work began; 0 while it waits for its turn."""
        return 0.0 if self._began is None else time.monotonic() - self._began

    @property
    def words(self) -> tuple[object, ...]:
        """What it told so far and what was kept of it."""
        with self._lock:
            return tuple(self._words)

    def stop(self) -> None:
        """End the work; the best so far is kept."""
        self._stop.set()

    def join(self, seconds: float) -> None:
        """Wait for the end, but not longer than this."""
        self._thread.join(seconds)

    def _run(self) -> None:
        if not self._turns.take(self._stop):
            self._end(State.FAILED, "It was stopped before its turn came.")
            return
        try:
            self._began = time.monotonic()
            self._end(State.WORKING)
            self.answer = self._work(self._hear, self._stop)
            self._end(State.DONE)
        except InputError as fault:  # a person's to mend, message by message
            self.refusal = fault.messages
            self._end(State.FAILED, str(fault))
        except CapacityError as fault:
            LOG.exception("long work failed")
            self._end(State.FAILED, str(fault))
        except Exception as fault:  # a page must be told whatever it was
            LOG.exception("long work broke down")
            self._end(State.FAILED, f"{type(fault).__name__}: {fault}")
        finally:
            self._turns.give_back()
            self._on_end()

    def _hear(self, word: object) -> None:
        with self._lock:
            self._keep(self._words, word)

    def _end(self, state: State, failure: str = "") -> None:
        with self._lock:
            self.failure = failure
            self._state = state


def stop_when_gone(
    job: Job, is_looked_at: Callable[[], bool], patience_seconds: float, look_every: float = 1.0
) -> Thread:
    """Stop work that nobody has looked at for ``patience_seconds``; return the watching thread.

    A page that is loaded again is away for a moment; so is a browser whose line drops.
    """

    def watch() -> None:
        last_seen = time.monotonic()
        while job.is_live:
            if is_looked_at():
                last_seen = time.monotonic()
            elif time.monotonic() - last_seen > patience_seconds:
                LOG.warning("nobody looks at a job any more; it is stopped")
                job.stop()
                return
            threading.Event().wait(look_every)

    watcher = Thread(target=watch, name="watcher of long work", daemon=True)
    watcher.start()
    return watcher
