"""The planner's workbook, or a folder of CSV files, becomes facts and messages.

``read_book`` is fetched when first asked for: commands read in a child process (``limited``)
and need not wait for the spreadsheet libraries themselves.
"""

from typing import TYPE_CHECKING

from capacity.inputs.book import Book

if TYPE_CHECKING:
    from capacity.inputs.read_input import read_book

__all__ = ["Book", "read_book"]


def __getattr__(name: str) -> object:
    """Return the reader when it is asked for."""
    if name != "read_book":
        raise AttributeError(f"module 'capacity.inputs' has no attribute {name!r}")
    from capacity.inputs.read_input import read_book

    return read_book
