"""The input as a person asks for it: as facts, or as everything that is wrong with it.

Files are read in a child process of bounded time and memory.
"""

from datetime import date
from os import PathLike
from pathlib import Path

from capacity.errors import InputError
from capacity.facts import Base, Check, Network
from capacity.inputs.limited import enquiries_and_messages, read_book
from capacity.inputs.network_files import read_network_book
from capacity.inputs.reading.as_of import AsOf
from capacity.messages import Level, Message

__all__ = ["read", "read_enquiries", "read_network", "verify"]


def verify(path: str | PathLike[str], *, today: date | None = None) -> tuple[Message, ...]:
    """Return everything worth saying about a workbook or a folder of CSV files.

    With ``today`` it is read for a re-plan on that day.
    """
    return read_book(Path(path), as_of=None if today is None else AsOf(today)).messages


def read(path: str | PathLike[str], *, today: date | None = None) -> Base:
    """Return the base that a workbook or a folder of CSV files describes.

    With ``today`` it is read for a re-plan on that day.

    Raises
    ------
    InputError
        When the input has errors; its ``messages`` hold all of them.
    """
    book = read_book(Path(path), as_of=None if today is None else AsOf(today))
    if book.base is None:
        raise InputError(book.messages)
    return book.base


def read_enquiries(base: Base, path: str | PathLike[str]) -> tuple[Check, ...]:
    """Return the enquiries of a workbook, or a folder of CSV files, with a sheet ``Enquiries``.

    A sheet ``Checks`` is read in its stead. The columns are those of ``Checks``; ``Status``
    may be missing.

    Raises
    ------
    InputError
        When anything is wrong with them; its ``messages`` hold all of it.
    """
    enquiries, messages = enquiries_and_messages(Path(path), base)
    if any(message.level is Level.ERROR for message in messages):
        raise InputError(messages)
    return enquiries


def read_network(path: str | PathLike[str]) -> Network:
    """Return the bases that a workbook names, with the enquiries that several of them are asked.

    Its sheets are ``Bases``, ``Enquiries`` and ``Ferry costs``; the bases' own workbooks are named
    from where it lies.

    Raises
    ------
    InputError
        When anything is wrong with it or with one of them; its ``messages`` hold all of it.
    """
    book = read_network_book(Path(path))
    if book.network is None:
        raise InputError(book.messages)
    return book.network
