"""Days as the charts want them: texts in the time of whoever looks."""

from datetime import date, datetime, time, timedelta


def at(day: date) -> str:
    """Return the start of a day, in the time of whoever looks; a lone date would be UTC."""
    return f"{day.isoformat()}T00:00:00"


def middle_of_week(monday: date) -> str:
    """Return noon on the Thursday of a week: where a mark for the whole week stands."""
    return (datetime.combine(monday, time(12)) + timedelta(days=3)).isoformat()
