"""The marks in workbooks, on the dashboard and on paper: one meaning each, and no others.

============================================  ========================
mark                                          means
============================================  ========================
triangle                                      overload
thick right edge with the words ``late 3 d``  out late
square                                        fixed
short upright bar with the word ``agreed``    Agreed out
============================================  ========================
"""

TRIANGLE = "\N{BLACK UP-POINTING TRIANGLE}"
"""Overload."""

SQUARE = "\N{BLACK SQUARE}"
"""Fixed: its bay and day are."""

AGREED = "agreed"
"""The word at the short upright bar on the day of Agreed out."""

BAR = "|"
"""The bar itself, where it stands in a line of text."""


def late(days: int) -> str:
    """Return the words beside the thick right edge of a check that is out late: ``late 3 d``."""
    return f"late {days:,} d"
