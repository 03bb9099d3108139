"""All desks of this server, each found by a secret that nobody can guess."""

import atexit
import secrets
import time
from threading import Lock

from ui.desk import Desk

IDLE_SECONDS = 12 * 3600.0
"""A desk that nobody has used for so long is cleared away."""

MOST_DESKS = 200
"""Beyond these the one unused for longest is cleared away, if it is not at work."""

SECONDS_TO_END = 3.0


class Board:
    """Desks by their secret."""

    def __init__(self) -> None:
        """Begin with none."""
        self._lock = Lock()
        self._desks: dict[str, Desk] = {}

    def desk(self, id: str | None) -> Desk:
        """Return the desk of this secret; a new one, with a secret of its own, for any other.

        A secret that is not known is never taken over, so nobody can be sent a link to a desk
        that somebody else knows of.
        """
        with self._lock:
            found = self._desks.get(id or "")
            if found is None:
                found = Desk(secrets.token_urlsafe(16))
                self._clear_away()
                self._desks[found.id] = found
            found.last_used = time.monotonic()
            return found

    def end_all(self) -> None:
        """Stop every job, and wait a moment so that its child processes end with it."""
        with self._lock:
            jobs = [desk.job for desk in self._desks.values() if desk.job is not None]
        for job in jobs:
            job.stop()
        for job in jobs:
            job.join(SECONDS_TO_END)

    def _clear_away(self) -> None:
        resting = sorted(
            (desk for desk in self._desks.values() if not desk.is_working),
            key=lambda desk: desk.last_used,
        )
        spare = len(self._desks) - MOST_DESKS + 1
        for number, desk in enumerate(resting):
            if number < spare or time.monotonic() - desk.last_used > IDLE_SECONDS:
                del self._desks[desk.id]


BOARD = Board()
atexit.register(BOARD.end_all)
