"""The same invented bases with man-hours that may be levelled."""

from dataclasses import replace

from capacity.facts import Base, Package
from tests.reference.levelled_bases import with_peak

PEAK = 1.5


def levelled(base: Base, peak: float = PEAK, *, into_float: bool = False) -> Base:
    """Return the base with the same peak for all stages, and the same answer about float."""
    return with_peak(base, peak, into_float=into_float)


def beside_each_other(base: Base) -> Base:
    """Return the base with every third stage of a package beside the one before it."""
    return base.replace(packages=tuple(_beside(package) for package in base.packages))


def _beside(package: Package) -> Package:
    stages = list(package.stages)
    for number in range(2, len(stages), 3):
        stages[number] = replace(stages[number], after=stages[number - 1].after)
    return replace(package, stages=tuple(stages))
