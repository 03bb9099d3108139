"""Days: the ones that a page takes, and as the charts want them."""

from datetime import date

LEAST_DAY, MOST_DAY = date(1990, 1, 1), date(2110, 12, 31)
"""Fields and grids take no days beyond these: a slip of a key makes it the year 114 or 20270."""


def at(day: date) -> str:
    """Return the start of a day, in the time of whoever looks; a lone date would be UTC."""
    return f"{day.isoformat()}T00:00:00"
