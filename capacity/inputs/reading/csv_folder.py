"""A folder of ``.csv`` files, named after the sheets, as raw tables."""

import csv
from collections.abc import Callable
from pathlib import Path

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

MOST_BYTES_OF_A_FILE = 50_000_000
MOST_LINES = 1_000_000  # blank ones too; an .xlsx sheet has about as many rows
OTHER_SEPARATORS = {";": "semicolons", "\t": "tabs"}


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
    for file in files:
        if not wanted(file.stem):
            continue
        collector = RowCollector()
        whole = False
        try:
            _read_file(file, collector)
            whole = True
        except UnreadableError as fault:
            messages.append(Message(Level.ERROR, file.name, fault.what, fault.remedy))
        tables[file.stem] = RawTable(file.name, tuple(collector.rows), whole)
    return RawBook(tables, tuple(file.stem for file in files), tuple(messages))


def _read_file(file: Path, collector: RowCollector) -> None:
    """Collect the rows of a file; whatever goes wrong is an ``UnreadableError``."""
    try:
        if file.stat().st_size > MOST_BYTES_OF_A_FILE:
            raise UnreadableError(
                f"the file has more than {MOST_BYTES_OF_A_FILE // 1_000_000} MB.",
                "Keep only the rows that this plan needs.",
            )
        with file.open(encoding="utf-8-sig", newline="") as stream:
            for number, cells in enumerate(csv.reader(stream, strict=True), start=1):
                if not collector.rows:
                    _refuse_other_separators(cells)
                if number > MOST_LINES:
                    raise UnreadableError(
                        f"the file has more than {MOST_LINES:,} lines.", "Delete the blank ones."
                    )
                collector.add(number, [_value(cell) for cell in cells])
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


def _refuse_other_separators(headings: list[str]) -> None:
    for separator, name in OTHER_SEPARATORS.items():
        found = sum(cell.count(separator) for cell in headings)
        if found and found >= len(headings):
            raise UnreadableError(
                f"the columns are separated by {name}.",
                "Save the file with commas between the columns.",
            )


def _value(text: str) -> object:
    if text.strip() in ERROR_CODES:
        return error_cell(text.strip())
    return blank_to_none(UntypedText(text))
