"""How findings are distributed: a factor of mean 1 on the findings of a stage.

The findings of a stage are ``findings * findings_factor`` of its routine man-hours on average;
what is drawn is a factor on that, with mean 1 and the spread as its standard deviation. The
factor is a rising function of a standard normal score, so that equal scores mean equally bad
luck under either shape.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from capacity.errors import CapacityError
from capacity.facts import Base, Stage
from capacity.questions.risk.settings import RiskSettings, Shape
from capacity.words import percent

Floats = NDArray[np.float64]

WIDEST_EVEN_TRIANGLE = 1 / math.sqrt(6)
"""Standard deviation of the widest symmetrical triangle about 1 that stays above 0."""

WIDEST_TRIANGLE = math.sqrt(0.5)
"""Standard deviation of the widest triangle of mean 1 that stays above 0: from 0 to 3, mode 0."""


class SpreadSource(StrEnum):
    """Where the spread of a stage's findings comes from."""

    WORKBOOK = "workbook"
    JUDGEMENT = "planner's judgement"
    NONE = "none given, taken as certain"


@dataclass(frozen=True, slots=True)
class StageSpread:
    """The findings of one stage of a package, as shares of its routine man-hours.

    ``spread`` is the standard deviation as a share of the findings.
    """

    package: str
    stage: str
    findings: float
    spread: float
    source: SpreadSource


def spreads_of(base: Base, settings: RiskSettings) -> tuple[StageSpread, ...]:
    """Return the spread of every stage that has findings, in the order of the packages.

    A spread of 0 in the workbook is the same as none given.

    Raises
    ------
    CapacityError
        When a triangle cannot have the spread of a stage.
    """
    found = tuple(
        StageSpread(package.name, stage.name, stage.findings, *spread_of(stage, settings))
        for package in base.packages
        for stage in package.stages
        if stage.findings > 0
    )
    for one in found:
        if settings.shape is Shape.TRIANGULAR and one.spread > WIDEST_TRIANGLE:
            raise CapacityError(
                f"The findings of stage {one.stage} of package {one.package} spread by "
                f"{percent(one.spread)} ({one.source}). Findings that never fall below 0 spread by "
                f"{percent(WIDEST_TRIANGLE)} at most when they are triangular. Give a smaller "
                "spread or choose the log-normal shape."
            )
    return found


def spread_of(stage: Stage, settings: RiskSettings) -> tuple[float, SpreadSource]:
    """Return the spread of a stage's findings and where it comes from."""
    if stage.findings_spread > 0:
        return stage.findings_spread, SpreadSource.WORKBOOK
    if settings.default_spread:
        return settings.default_spread, SpreadSource.JUDGEMENT
    return 0.0, SpreadSource.NONE


def factor_at(scores: Floats, spread: float, shape: Shape) -> Floats:
    """Return the factors on the findings at standard normal scores, elementwise.

    Log-normal: ``exp(sigma * z - sigma^2 / 2)`` with ``sigma^2 = log(1 + spread^2)``; its mean
    is 1 and its variance ``exp(sigma^2) - 1 = spread^2``. Source: moments of the log-normal
    distribution, NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.9 (from memory).
    Triangular: the inverse of the distribution function at ``Phi(z)``.
    """
    if spread == 0:
        return np.ones_like(scores)
    if shape is Shape.LOG_NORMAL:
        sigma = math.sqrt(math.log1p(spread**2))
        return np.asarray(np.exp(sigma * scores - sigma**2 / 2))
    return _triangle_at(np.asarray(ndtr(scores)), *triangle(spread))


def factor_at_quantile(quantile: float, spread: float, shape: Shape) -> float:
    """Return the factor that is not exceeded with probability ``quantile``, inside (0, 1)."""
    score = NormalDist().inv_cdf(quantile)
    return float(factor_at(np.array([score]), spread, shape)[0])


def triangle(spread: float) -> tuple[float, float, float]:
    """Return least, most likely and greatest value of a triangle of mean 1 and that spread.

    It is symmetrical, ``1 -+ sqrt(6) * spread``, as long as it stays above 0; a wider one
    begins at 0 and leans to the right: mode c and greatest 3 - c, where the variance
    ``((3 - c)^2 + c^2 - c (3 - c)) / 18 = spread^2``. Source: mean (a + b + c) / 3 and variance
    (a^2 + b^2 + c^2 - ab - ac - bc) / 18 of the triangular distribution, Evans, Hastings and
    Peacock, Statistical Distributions (from memory).
    """
    if spread <= WIDEST_EVEN_TRIANGLE:
        half = math.sqrt(6) * spread
        return 1 - half, 1.0, 1 + half
    mode = max(0.0, 3 - math.sqrt(24 * spread**2 - 3)) / 2  # above 0 but for rounding
    return 0.0, mode, 3 - mode


def _triangle_at(part: Floats, least: float, mode: float, greatest: float) -> Floats:
    """Return the value below which a ``part`` of the triangle lies, elementwise."""
    width, rise = greatest - least, mode - least
    rising = least + np.sqrt(part * width * rise)
    falling = greatest - np.sqrt((1 - part) * width * (greatest - mode))
    return np.where(part * width < rise, rising, falling)
