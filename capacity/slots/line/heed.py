"""Whether somebody has stopped the work, asked between the steps of getting ready."""

import time
from collections.abc import Callable
from threading import Event

from capacity.errors import StoppedError

Heed = Callable[[], None]
"""Called between steps; raises ``StoppedError`` when the work is to end."""


def nobody_stops() -> None:
    """Go on in any case."""


def heeding(stop: Event | None, grace_seconds: float = 0.0) -> Heed:
    """Return what raises ``StoppedError`` once ``stop`` has been seen set for so long.

    With some grace, work that is nearly ready still comes to something to keep.
    """
    if stop is None:
        return nobody_stops
    seen: list[float] = []

    def heed() -> None:
        if stop.is_set():
            seen.append(time.monotonic())
            if seen[-1] - seen[0] >= grace_seconds:
                raise StoppedError("It was stopped before there was anything to keep.")

    return heed
