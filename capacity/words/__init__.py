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

__all__ = [
    "LEAST_HOURS",
    "LEAST_MONEY",
    "counted",
    "day",
    "days",
    "hours",
    "listed",
    "money",
    "percent",
    "quoted",
    "week_dates",
]
