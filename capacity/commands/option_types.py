"""Types of options that refuse what no plan can be made with: nan, the infinite, far years."""

import math
import os
from datetime import datetime
from pathlib import Path
from typing import Any

import click

from capacity.cores import FEWEST_WORKERS, MOST_WORKERS

FIRST_YEAR, LAST_YEAR = 2000, 2099
"""The years that the workbook takes too."""

MOST_MONEY = 1e9
"""As in the workbook."""


class FiniteRange(click.FloatRange):
    """Numbers within bounds; ``nan``, which is neither above nor below anything, is none."""

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Return the number; anything else is wrong usage."""
        number = float(super().convert(value, param, ctx))
        if not math.isfinite(number):
            self.fail(f"{value!r} is not a finite number.", param, ctx)
        return number


class FileName(click.Path):
    """Names that a file can have, given to commands as ``Path``."""

    def __init__(self, **options: bool) -> None:
        """Take the options of ``click.Path``."""
        super().__init__(path_type=Path, **options)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path; what no file system takes is wrong usage."""
        try:
            if b"\0" in os.fsencode(value):
                self.fail("no file can have this name: it holds a zero byte.", param, ctx)
        except UnicodeEncodeError:
            self.fail("no file can have this name: it holds half a character.", param, ctx)
        return super().convert(value, param, ctx)


class PlannedDay(click.DateTime):
    """A day such as ``2027-01-31`` of a year that the workbook takes too."""

    def __init__(self) -> None:
        """Take ISO dates alone."""
        super().__init__(["%Y-%m-%d"])

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> datetime:
        """Return the day at midnight; anything else is wrong usage."""
        moment: datetime = super().convert(value, param, ctx)
        if not FIRST_YEAR <= moment.year <= LAST_YEAR:
            self.fail(f"name a day of the years {FIRST_YEAR} to {LAST_YEAR}.", param, ctx)
        return moment


class Workers(click.IntRange):
    """How many processes search: one that proves, and as many as may be that look for plans."""

    def __init__(self) -> None:
        """Take as many as settings do."""
        super().__init__(FEWEST_WORKERS, MOST_WORKERS)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """Return the number; anything else is wrong usage."""
        try:
            number = int(value)
        except (TypeError, ValueError):
            self.fail(f"{value!r} is not a whole number. {self._remedy()}", param, ctx)
        if number < FEWEST_WORKERS:
            self.fail(f"{number} is too few. {self._remedy()}", param, ctx)
        if number > MOST_WORKERS:
            self.fail(f"{number} is too many. {self._remedy()}", param, ctx)
        return number

    def _remedy(self) -> str:
        return (
            f"Give {FEWEST_WORKERS} to {MOST_WORKERS} (one proves, the others look for plans), or "
            "leave it out: then it is one fewer than there are processor cores."
        )


AMOUNT = FiniteRange(0, MOST_MONEY)
"""Money, in the base's currency."""

DAY = PlannedDay()

FILE = FileName()

SECONDS = FiniteRange(0.1, 86_400)
"""Wall time: up to a day."""

WORKERS = Workers()
"""Processes of a search."""
