"""The column that says when a week begins, beside its name."""

from collections.abc import Callable
from typing import TypeVar

from capacity.reports.kit.formats import DATE
from capacity.reports.kit.table import Column
from capacity.words import week_dates

Row = TypeVar("Row")


def monday_column(week: Callable[[Row], str]) -> Column[Row]:
    """Return the column of the Mondays of weeks, which are named as ``2027-W02``."""
    return Column("Week from (Monday)", lambda row: week_dates(week(row))[0], DATE, width=17)
