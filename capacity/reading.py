"""The input as a person asks for it: as facts, or as everything that is wrong with it.

Files are read in a child process of bounded time and memory.
"""

from os import PathLike
from pathlib import Path

from capacity.errors import InputError
from capacity.facts import Base, Check
from capacity.inputs.limited import read_book
from capacity.inputs.limited import read_enquiries as enquiries_within_limits
from capacity.messages import Message

__all__ = ["check", "read", "read_enquiries"]


def check(path: str | PathLike[str]) -> tuple[Message, ...]:
    """Return everything worth saying about a workbook or a folder of CSV files."""
    return read_book(Path(path)).messages


def read(path: str | PathLike[str]) -> Base:
    """Return the base that a workbook or a folder of CSV files describes.

    Raises
    ------
    InputError
        When the input has errors; its ``messages`` hold all of them.
    """
    book = read_book(Path(path))
    if book.base is None:
        raise InputError(book.messages)
    return book.base


def read_enquiries(path: str | PathLike[str], base: Base) -> tuple[Check, ...]:
    """Return the enquiries of a workbook, or a folder of CSV files, with a sheet ``Enquiries``.

    A sheet ``Checks`` is read in its stead. The columns are those of ``Checks``; ``Status``
    may be missing.

    Raises
    ------
    InputError
        When anything is wrong with them; its ``messages`` hold all of it.
    """
    return enquiries_within_limits(Path(path), base)
