"""A folder of ``.csv`` files, named after the sheets, as raw tables."""

import csv
from collections.abc import Callable
from pathlib import Path
from typing import TextIO

from capacity.inputs.reading.local_marks import (
    COMMA,
    as_the_file_writes,
    delimiter_of,
    said_delimiter,
)
from capacity.inputs.reading.raw import (
    ERROR_CODES,
    RawBook,
    RawTable,
    RowCollector,
    UnreadableError,
    UntypedText,
    blank_to_none,
    error_cell,
)
from capacity.messages import Level, Message
from capacity.words import listed

MOST_BYTES_OF_A_FILE = 50_000_000
MOST_LINES = 1_000_000  # blank ones too; an .xlsx sheet has about as many rows
MOST_CHARACTERS_OF_HEADINGS = 65_536


def read_csv_folder(folder: Path, wanted: Callable[[str], bool]) -> RawBook:
    """Return the tables of the wanted files.

    Raises
    ------
    UnreadableError
        When the folder holds no ``.csv`` file.
    """
    files = sorted(
        entry for entry in folder.iterdir() if entry.is_file() and entry.suffix.lower() == ".csv"
    )
    if not files:
        raise UnreadableError(
            "the folder holds no .csv file.", "Put one file per sheet there, such as Checks.csv."
        )
    tables: dict[str, RawTable] = {}
    messages: list[Message] = []
    written: dict[str, list[str]] = {}
    for file in files:
        if not wanted(file.stem):
            continue
        collector = RowCollector()
        whole, delimiter = False, COMMA
        try:
            delimiter = _read_file(file, collector)
            whole = True
        except UnreadableError as fault:
            messages.append(Message(Level.ERROR, file.name, fault.what, fault.remedy))
        table = RawTable(file.name, tuple(collector.rows), whole)
        if delimiter != COMMA:
            table, marks = as_the_file_writes(table, delimiter)
            written.setdefault(marks.in_words(), []).append(file.name)
        tables[file.stem] = table
    for said, (first, *others) in written.items():
        alike = f" The same goes for {listed(others)}." if others else ""
        messages.append(Message(Level.NOTE, first, f"{said}{alike}"))
    return RawBook(tables, tuple(file.stem for file in files), tuple(messages))


def _read_file(file: Path, collector: RowCollector) -> str:
    """Collect the rows of a file and return its delimiter.

    Whatever goes wrong is an ``UnreadableError``.
    """
    try:
        if file.stat().st_size > MOST_BYTES_OF_A_FILE:
            raise UnreadableError(
                f"the file has more than {MOST_BYTES_OF_A_FILE // 1_000_000} MB.",
                "Keep only the rows that this plan needs.",
            )
        with file.open(encoding="utf-8-sig", newline="") as stream:
            delimiter = _delimiter(stream)
            reader = csv.reader(stream, delimiter=delimiter, strict=True)
            for number, cells in enumerate(reader, start=1):
                if number > MOST_LINES:
                    raise UnreadableError(
                        f"the file has more than {MOST_LINES:,} lines.", "Delete the blank ones."
                    )
                collector.add(number, [_value(cell) for cell in cells])
            return delimiter
    except UnicodeDecodeError as fault:
        raise UnreadableError(
            "the file is not in UTF-8.", "Save it as CSV in UTF-8 encoding."
        ) from fault
    except csv.Error as fault:
        raise UnreadableError(
            f"the file cannot be read as CSV after row {len(collector.rows)} ({fault}).",
            "Check the quotation marks there, or save the table anew.",
        ) from fault
    except OSError as fault:
        raise UnreadableError(
            f"the file cannot be opened ({fault.strerror or fault}).",
            "Make sure that it may be read.",
        ) from fault


def _delimiter(stream: TextIO) -> str:
    """Return the delimiter of a file, which is then at its first row.

    A line that does nothing but name the delimiter counts as no row: programs do not show it.
    """
    first = stream.readline(MOST_CHARACTERS_OF_HEADINGS)
    if said := said_delimiter(first):
        return said
    headings, lines = first, 1
    while headings and not headings.strip() and lines <= MOST_LINES:
        headings, lines = stream.readline(MOST_CHARACTERS_OF_HEADINGS), lines + 1
    stream.seek(0)
    return delimiter_of(headings)


def _value(text: str) -> object:
    if text.strip() in ERROR_CODES:
        return error_cell(text.strip())
    return blank_to_none(UntypedText(text))
