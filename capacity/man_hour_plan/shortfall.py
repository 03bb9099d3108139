"""When a shortfall of man-hours is significant.

Source: AMC 145.A.30(d) paragraph 8 (UK consolidation of 2021): a significant deviation is a
shortfall of more than 25 % in available man-hours during a calendar month for any one of the
functions. It does not say of what the 25 % are; here they are of the hours planned.
"""

SIGNIFICANT_SHARE = 0.25
TOLERANCE = 1e-6
"""Man-hours that are no more than the rounding of a month's sum."""


def shortfall(expected: float, available: float) -> float | None:
    """Return ``(expected - available) / expected``; None where nothing is expected.

    Both are man-hours; a negative share says that more is available.
    """
    return None if expected <= TOLERANCE else (expected - available) / expected


def is_significant(expected: float, available: float) -> bool:
    """Return whether ``expected - available > 0.25 * expected``: exactly a quarter is not."""
    return expected - available > SIGNIFICANT_SHARE * expected + TOLERANCE
