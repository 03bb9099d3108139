"""The tables of an input, whichever kind it is of."""

from collections.abc import Callable
from pathlib import Path

from capacity.inputs.reading.csv_folder import read_csv_folder
from capacity.inputs.reading.raw import RawBook, UnreadableError
from capacity.inputs.reading.workbook import read_workbook
from capacity.messages import Level, Message


def _tables_of(path: Path, wanted: Callable[[str], bool]) -> RawBook:
    """Return the wanted tables of a workbook or of a folder of CSV files.

    Raises
    ------
    UnreadableError
        When it is neither, or cannot be read as what it is.
    OSError
        When it is not there, or may not be read.
    """
    if path.is_dir():
        return read_csv_folder(path, wanted)
    if path.exists() and not path.is_file():  # a pipe or a device would be waited for
        raise UnreadableError(
            "it is neither a file nor a folder.", "Name a workbook, or a folder of .csv files."
        )
    return read_workbook(path, wanted)


def tables_or_message(path: Path, is_wanted: Callable[[str], bool]) -> RawBook | Message:
    """Return the tables of a workbook or folder; a message why they cannot be read."""
    name = path.name or str(path)
    try:
        return _tables_of(path, is_wanted)
    except UnreadableError as fault:
        return Message(Level.ERROR, name, fault.what, fault.remedy)
    except OSError as fault:
        what = f"the file cannot be opened ({fault.strerror or fault})."
        return Message(Level.ERROR, name, what, "Check the name, and that it may be read.")
