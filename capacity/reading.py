"""The input as a person asks for it: as facts, or as everything that is wrong with it."""

from os import PathLike
from pathlib import Path

from capacity.errors import InputError
from capacity.facts import Base
from capacity.findings import Finding
from capacity.inputs import read_book
from capacity.inputs.offers_book import read_offers

__all__ = ["check", "read", "read_offers"]


def check(path: str | PathLike[str]) -> tuple[Finding, ...]:
    """Return everything worth saying about a workbook or a folder of CSV files."""
    return read_book(Path(path)).findings


def read(path: str | PathLike[str]) -> Base:
    """Return the base that a workbook or a folder of CSV files describes.

    Raises
    ------
    InputError
        When the input has errors; its ``findings`` hold all of them.
    """
    book = read_book(Path(path))
    if book.base is None:
        raise InputError(book.findings)
    return book.base
