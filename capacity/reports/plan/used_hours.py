"""How much of a week's regular man-hours is used: one figure for workbook and dashboard."""

from math import ceil

from capacity.plans.plan import WeekLoad
from capacity.words import LEAST_HOURS

NEARLY_USED_FROM = 0.9
"""Share of the regular man-hours from which on a week is nearly used up."""


def used_percent(load: WeekLoad) -> int | None:
    """Return demand in per cent of the regular man-hours; None where there are none.

    Rounded up, so that a week with some use never reads 0; but what is below 100 never reads 100.
    """
    if load.regular < LEAST_HOURS:
        return None
    share = 100 * load.demand / load.regular
    return ceil(share - 1e-6) if share < 99 else max(99, int(share + 1e-6))


def is_nearly_used(load: WeekLoad) -> bool:
    """Whether a week's regular man-hours are used to nine tenths or more."""
    return load.regular >= LEAST_HOURS and load.demand >= NEARLY_USED_FROM * load.regular
