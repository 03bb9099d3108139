"""When a proof has come to a standstill: more time would hardly raise its bound."""

import time

import numpy as np

from capacity.search_settings import SearchSettings


class Standstill:
    """Hears every bound on the money, and tells when they have come to a standstill."""

    def __init__(self, timing: SearchSettings, seconds: float) -> None:
        """Begin with no bound; ``seconds`` are what the proof has."""
        self._timing = timing
        self._patience = max(timing.least_standstill_seconds, timing.standstill_share * seconds)
        self._bound, self._since = -np.inf, time.monotonic()

    def is_reached(self, money: float, bound: float) -> bool:
        """Return whether the bound has hardly come nearer to the best plan's money for long.

        While less than ``standstill_gap_share`` x (money - bound) is gained in the seconds of
        patience. Not within ``least_gap_to_find`` of the money, where a proof may still end.
        """
        now, gap = time.monotonic(), money - bound
        if bound > self._bound + self._timing.standstill_gap_share * gap:
            self._bound, self._since = bound, now
        is_wide = gap > self._timing.least_gap_to_find * abs(money)
        return bool(np.isfinite(bound) and is_wide and now - self._since > self._patience)
