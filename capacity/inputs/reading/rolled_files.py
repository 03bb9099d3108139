"""The sheets of a workbook or a folder as they stand, and a copy of it with other rows."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from capacity.errors import InputError
from capacity.inputs.reading.csv_copy import csv_copy
from capacity.inputs.reading.edited_copy import SheetEdit, sheet_tables
from capacity.inputs.reading.spliced_copy import spliced_copy
from capacity.messages import Level, Message


def copy_of(path: Path, edits: Sequence[SheetEdit]) -> bytes | Mapping[str, bytes]:
    """Return a workbook with the edits made, or the files of a folder by name.

    Raises
    ------
    InputError
        When the input cannot be read, or a cell cannot be changed.
    """
    try:
        return csv_copy(path, edits) if path.is_dir() else spliced_copy(path, edits)
    except OSError as fault:
        what = f"the file cannot be opened ({fault.strerror or fault})."
        remedy = "Check the name, and that it may be read."
        raise InputError([Message(Level.ERROR, path.name, what, remedy)]) from fault


__all__ = ["copy_of", "sheet_tables"]
