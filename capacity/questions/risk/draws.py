"""Seeded normal scores: one for each draw, check and stage, the same for every plan.

A stage's scores depend on the seed and on the names of check and stage alone. So two plans of
one base, or of a base and its variant, are judged on the same luck (common random numbers),
and a further check changes nobody else's draws.
"""

import hashlib
import math

import numpy as np
from numpy.typing import NDArray

from capacity.questions.risk.settings import RiskSettings

_WORD_BYTES = 4


def scores_of(check: str, stage: str, settings: RiskSettings) -> NDArray[np.float64]:
    """Return standard normal scores, shape (draws,).

    ``sqrt(r) * common + sqrt(1 - r) * own`` with r the correlation between the stages of a
    check and ``common`` the same for all of them.
    """
    own = _normal(settings, "stage", check, stage)
    if settings.together == 0:
        return own
    common = _normal(settings, "check", check)
    return math.sqrt(settings.together) * common + math.sqrt(1 - settings.together) * own


def _normal(settings: RiskSettings, *names: str) -> NDArray[np.float64]:
    digest = hashlib.sha256("\0".join(names).encode("utf-8", "surrogatepass")).digest()
    words = [
        int.from_bytes(digest[start : start + _WORD_BYTES], "big")
        for start in range(0, len(digest), _WORD_BYTES)
    ]
    return np.random.default_rng([settings.seed, *words]).standard_normal(settings.draws)
