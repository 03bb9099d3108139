"""ISO weeks: their Mondays and their names."""

from datetime import date, timedelta

ONE_WEEK = timedelta(days=7)


def monday_of(day: date) -> date:
    """Return the Monday of the ISO week in which the day falls."""
    return day - timedelta(days=day.weekday())


def week_name(monday: date) -> str:
    """Name the ISO week: ``2026-W53`` is followed by ``2027-W01``."""
    year, week, _ = monday.isocalendar()
    return f"{year}-W{week:02}"


def monday_of_week(name: str) -> date | None:
    """Return the Monday of a week named as ``2027-W01``; None for anything else."""
    year, _, week = name.partition("-W")
    try:
        return date.fromisocalendar(int(year), int(week), 1)
    except ValueError:
        return None
