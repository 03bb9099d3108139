"""The tables of an input, whichever kind it is of."""

from collections.abc import Callable
from pathlib import Path

from capacity.inputs.reading.csv_folder import read_csv_folder
from capacity.inputs.reading.raw import RawBook, UnreadableError
from capacity.inputs.reading.workbook import read_workbook


def read_tables_of(path: Path, wanted: Callable[[str], bool]) -> RawBook:
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
