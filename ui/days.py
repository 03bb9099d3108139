"""Days as the charts want them: texts in the time of whoever looks."""

from datetime import date


def at(day: date) -> str:
    """Return the start of a day, in the time of whoever looks; a lone date would be UTC."""
    return f"{day.isoformat()}T00:00:00"
