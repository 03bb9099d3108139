"""Turns at work that only so many may do at a time: who came first has the next one."""

from collections import deque
from threading import Condition, Event

SECONDS_BETWEEN_LOOKS = 0.2
"""Whoever waits and is stopped goes away at most so much later."""


class Turns:
    """So many turns, and a queue of those who wait for one."""

    def __init__(self, most: int) -> None:
        """Let ``most`` work at the same time."""
        self._free = most
        self._queue: deque[object] = deque()
        self._changed = Condition()

    @property
    def waiting(self) -> int:
        """How many wait."""
        with self._changed:
            return len(self._queue)

    def take(self, stop: Event) -> bool:
        """Wait for a turn; return whether it came before ``stop`` was set."""
        me = object()
        with self._changed:
            self._queue.append(me)
            while not (self._free and self._queue[0] is me):
                self._changed.wait(SECONDS_BETWEEN_LOOKS)
                if stop.is_set():
                    self._queue.remove(me)
                    self._changed.notify_all()
                    return False
            self._queue.popleft()
            self._free -= 1
            self._changed.notify_all()  # there may be another one free
            return True

    def give_back(self) -> None:
        """End a turn."""
        with self._changed:
            self._free += 1
            self._changed.notify_all()
