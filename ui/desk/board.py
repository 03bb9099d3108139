"""All desks of this server, each found by a secret that nobody can guess."""

import atexit
import os
import secrets
import time
from collections.abc import Callable
from threading import Lock

from ui.desk.desk import Desk
from ui.desk.private_files import PrivateFiles, cache_folder
from ui.desk.saving import NOTHING_SAVED, Saving

IDLE_SECONDS = 12 * 3600.0
"""A desk that nobody has used for so long is cleared away from memory."""

MOST_DESKS = 200
"""Beyond these the one unused for longest is cleared away, if it is not at work."""

MOST_VISITORS = 200
"""As many more desks may be there on which nobody has done anything; they push out no others."""

SECONDS_TO_END = 3.0


class Board:
    """Desks by their secret; ``saving`` takes those up again that are no longer in memory."""

    def __init__(self, saving: Saving | None = None) -> None:
        """Begin with none."""
        self.saving = saving
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
            found = self._taken_up(id) or self._new(NOTHING_SAVED if id else "")
        found.last_used = time.monotonic()
        if self.saving is not None and found.is_touched:
            self.saving.files.touch(found.id)
        return found

    def own_desk(self, id: str) -> Desk:
        """Return the desk of a secret that the server itself has worked out for somebody."""
        with self._lock:
            found = self._desks.get(id)
        if found is None:
            found = self._taken_up(id)
        if found is None:
            with self._lock:
                found = self._desks.get(id) or self._put(Desk(id, self._on_change))
        found.last_used = time.monotonic()
        if self.saving is not None and found.is_touched:
            self.saving.files.touch(found.id)
        return found

    def keeps(self, id: str) -> bool:
        """Return whether work is kept on disk under this secret."""
        return self.saving is not None and self.saving.keeps(id)

    def end_all(self) -> None:
        """Stop every job, and wait a moment so that its child processes end with it."""
        with self._lock:
            jobs = [desk.job for desk in self._desks.values() if desk.job is not None]
        for job in jobs:
            job.stop()
        for job in jobs:
            job.join(SECONDS_TO_END)

    def _taken_up(self, id: str | None) -> Desk | None:
        desk = self.saving.take_up(id) if self.saving is not None and id else None
        if desk is None:
            return None
        with self._lock:  # another window of the same person may have been quicker
            return self._put(self._desks.get(desk.id, desk))

    def _new(self, note: str) -> Desk:
        desk = Desk(secrets.token_urlsafe(16), self._on_change)
        desk.note = note
        with self._lock:
            return self._put(desk)

    @property
    def _on_change(self) -> Callable[[Desk], None] | None:
        return None if self.saving is None else self.saving.keep

    def _put(self, desk: Desk) -> Desk:
        self._clear_away(desk.is_touched)
        self._desks[desk.id] = desk
        return desk

    def _clear_away(self, is_touched: bool) -> None:
        """Make room for one more desk among those on which something was done, or was not."""
        resting = sorted(
            (desk for desk in self._desks.values() if not desk.is_working),
            key=lambda desk: desk.last_used,
        )
        most = MOST_DESKS if is_touched else MOST_VISITORS
        alike = [desk for desk in self._desks.values() if desk.is_touched == is_touched]
        spare = len(alike) - most + 1
        for desk in resting:
            is_idle = time.monotonic() - desk.last_used > IDLE_SECONDS
            if is_idle or (desk.is_touched == is_touched and spare > 0):
                del self._desks[desk.id]
                spare -= desk.is_touched == is_touched


def _saving() -> Saving | None:
    """Return what keeps work on disk; None on a system without owners of files, or a home."""
    try:
        return Saving(PrivateFiles(cache_folder())) if hasattr(os, "getuid") else None
    except RuntimeError:
        return None


BOARD = Board(_saving())
atexit.register(BOARD.end_all)
