"""A sheet that a question adds to the plan workbook of its answer."""

from collections.abc import Callable
from dataclasses import dataclass

from capacity.reports.kit.sheet import Book


@dataclass(frozen=True, slots=True)
class FurtherSheet:
    """What a sheet is called, what the first sheet says of it, and what adds it to a workbook."""

    name: str
    shows: str
    write: Callable[[Book], None]
