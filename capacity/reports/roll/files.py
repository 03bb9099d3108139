"""Write next week's workbook: a file, or a folder of them, whole or not at all."""

import os
import secrets
import shutil
from collections.abc import Mapping
from os import PathLike
from pathlib import Path

from capacity.errors import OutputError
from capacity.questions.roll.values import RolledWorkbook
from capacity.reports.kit.whole_file import could_not_be_written, write_whole


def write_rolled(told: RolledWorkbook, path: str | PathLike[str]) -> None:
    """Write next week's workbook; what was a folder of CSV files becomes a new folder.

    Raises
    ------
    OutputError
        When it cannot be written, or when a folder is to replace something that is there.
    """
    if isinstance(told.content, bytes):
        write_whole(told.content, Path(path))
    else:
        _write_folder(told.content, Path(path))


def _write_folder(files: Mapping[str, bytes], path: Path) -> None:
    if path.exists() or path.is_symlink():
        raise OutputError(f"{path} is there already and is not replaced. Name a new folder.")
    temporary = path.with_name(f".{secrets.token_hex(8)}.tmp")
    try:
        temporary.mkdir()
        for name, content in files.items():
            with (temporary / name).open("xb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
        temporary.rename(path)
    except (OSError, UnicodeEncodeError) as problem:
        raise could_not_be_written(path, problem) from problem
    finally:
        shutil.rmtree(temporary, ignore_errors=True)
