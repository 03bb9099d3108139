"""Cells of the input, named in the answers."""

from collections.abc import Callable

Where = Callable[[str, str, str], str]
"""Gives the cell of the input for a sheet, the name of a row and a column.

A row of a sheet whose rows have no name of their own is asked for by its number among the
rows, such as ``#1`` for the first.
"""


def sheet_only(sheet: str, name: str, column: str) -> str:
    """Return the sheet: what can be told where the cells are not known."""
    return sheet


def cells(where: Where, sheet: str, name: str, *columns: str) -> str:
    """Return the cells of one row in brackets: ``(Checks!H5)``, ``(Checks!H5:I5)``."""
    found = list(dict.fromkeys(where(sheet, name, column) for column in columns))
    if len(found) == 1:
        return f"({found[0]})"
    return f"({found[0]}:{found[-1].rpartition('!')[2]})"
