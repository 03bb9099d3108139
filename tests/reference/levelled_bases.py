"""Bases whose man-hours may be levelled, made from others by chance."""

from dataclasses import replace
from random import Random

from capacity.facts import Base, Stage

PEAKS = (1.0, 1.0, 1.25, 1.5, 2.0, 3.0)


def with_levelling(base: Base, rng: Random) -> Base:
    """Return the base with a peak, some float and some heads for each of its stages."""
    return base.replace(
        packages=tuple(
            replace(package, stages=tuple(_levelled(stage, rng) for stage in package.stages))
            for package in base.packages
        )
    )


def _levelled(stage: Stage, rng: Random) -> Stage:
    return replace(
        stage,
        daily_peak=rng.choice(PEAKS),
        into_float=rng.random() < 0.4,
        max_heads=rng.choice((None, None, 2, 4, 8)),
    )


def with_peak(base: Base, peak: float, *, into_float: bool = False) -> Base:
    """Return the base with the same peak, and the same answer about float, for all its stages."""
    return base.replace(
        packages=tuple(
            replace(
                package,
                stages=tuple(
                    replace(stage, daily_peak=peak, into_float=into_float)
                    for stage in package.stages
                ),
            )
            for package in base.packages
        )
    )
