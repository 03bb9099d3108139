"""Types of options that refuse what no plan can be made with: nan, the infinite, far years."""

import math
import os
from datetime import datetime
from pathlib import Path
from typing import Any

import click

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


AMOUNT = FiniteRange(0, MOST_MONEY)
"""Money, in the base's currency."""

DAY = PlannedDay()

FILE = FileName()

SECONDS = FiniteRange(0.1, 86_400)
"""Wall time: up to a day."""
