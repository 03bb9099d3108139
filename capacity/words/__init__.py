"""What people read, said once: figures and lists in words, colours and marks."""

from capacity.words.figures import (
    LEAST_HOURS,
    LEAST_MONEY,
    counted,
    day,
    days,
    hours,
    listed,
    money,
    percent,
    quoted,
    week_dates,
)
from capacity.words.own_calendar import own_days

__all__ = [
    "LEAST_HOURS",
    "LEAST_MONEY",
    "counted",
    "day",
    "days",
    "hours",
    "listed",
    "money",
    "own_days",
    "percent",
    "quoted",
    "week_dates",
]
