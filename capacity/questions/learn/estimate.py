"""The mean of what visits had, its spread, and how well so many visits know it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from scipy import stats

CONFIDENCE = 0.95
"""Of intervals made so, that share holds the mean of all visits, were they normally distributed."""

FEW = 5
"""Fewer visits than these say so: their mean may be chance. A judgement, no source."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """Mean of ``number`` values, their sample standard deviation, and confidence limits.

    ``deviation``, ``low`` and ``high`` are None of a single value, which tells no spread.
    """

    number: int
    mean: float
    deviation: float | None = None
    low: float | None = None
    high: float | None = None

    @property
    def is_of_few(self) -> bool:
        """Whether fewer than five values stand behind it."""
        return self.number < FEW


def estimate_of(values: Sequence[float]) -> Estimate | None:
    """Return mean, spread and two-sided confidence limits of the mean; None of no values.

    Y = sum(Y_i) / N; s = sqrt(sum((Y_i - Y)^2) / (N - 1)); limits Y -+ t(0.975, N - 1) s / sqrt(N):
    NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2 *Confidence Limits for the Mean*.
    """
    if not values:
        return None
    mean = float(np.mean(values))
    if len(values) == 1:
        return Estimate(1, mean)
    deviation = float(np.std(values, ddof=1))
    low, high = limits_of_mean(mean, deviation, len(values))
    return Estimate(len(values), mean, deviation, low, high)


def limits_of_mean(mean: float, deviation: float, number: int) -> tuple[float, float]:
    """Return the two-sided confidence limits of a mean, from two values on."""
    standard_error = deviation / sqrt(number)
    reach = float(stats.t.ppf((1 + CONFIDENCE) / 2, number - 1)) * standard_error
    return mean - reach, mean + reach
