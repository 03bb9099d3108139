"""Read a whole input: the facts, or everything that is wrong with it."""

from dataclasses import replace
from pathlib import Path

from capacity.inputs.book import Book
from capacity.inputs.checking.every_rule import check
from capacity.inputs.reading.as_of import AsOf
from capacity.inputs.reading.by_kind import tables_or_message
from capacity.inputs.reading.facts_from_rows import base_from
from capacity.inputs.reading.raw import RawBook
from capacity.inputs.reading.tables import is_known, read_tables
from capacity.messages import Level, Message


def read_book(path: Path, as_of: AsOf | None = None) -> Book:
    """Return what an ``.xlsx`` workbook or a folder of ``.csv`` files says.

    Work left on checks counts from the day ``as_of`` which it is read, from the first day of
    the plan without one.

    Bad input never raises: whatever is wrong is among the messages, all of it at once.
    """
    raw = tables_or_message(path, is_known)
    return Book(None, (raw,)) if isinstance(raw, Message) else book_of(raw, as_of)


def book_of(raw: RawBook, as_of: AsOf | None = None) -> Book:
    """Return what the tables of an input say, as ``read_book`` does of the file that holds them."""
    sheets, messages = read_tables(raw)
    sheets = replace(sheets, as_of=as_of)
    messages += check(sheets)
    spoiled = any(message.level is Level.ERROR for message in messages)
    base = None if spoiled or sheets.settings is None else base_from(sheets, sheets.settings)
    if base is not None and as_of is not None:
        base = base.replace(work_counts_from=as_of.today)
    return Book(base, tuple(messages), sheets.places())
