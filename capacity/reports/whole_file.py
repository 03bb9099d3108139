"""Write a file whole or not at all."""

import errno
import os
import secrets
from pathlib import Path

from capacity.errors import OutputError

REMEDIES = {
    errno.ENOENT: "Its folder does not exist: create it or name another one.",
    errno.ENOTDIR: "Its folder is a file: name another folder.",
    errno.EACCES: "You may not write there: close the file if it is open elsewhere, "
    "or name another folder.",
    errno.EPERM: "You may not write there: name another folder.",
    errno.EROFS: "That disk can only be read: name a folder on another one.",
    errno.ENOSPC: "The disk is full: make room or name a folder on another one.",
    errno.ENAMETOOLONG: "The name is too long: choose a shorter one.",
}
"""What to do about the failures that people meet."""


def write_whole(content: bytes, path: Path) -> None:
    """Replace the file with the content in one step.

    The content goes to a temporary file in the same folder, which then takes the place of the
    old file; readers see the old file or the new one, never a half of either.

    Raises
    ------
    OutputError
        When the file cannot be written; the old one, if any, is untouched and nothing is left
        behind.
    """
    try:
        if path.exists() and not path.is_file():
            kind = "a folder" if path.is_dir() else "not a plain file"
            raise OutputError(f"{path} is {kind} and cannot be replaced. Name a file.")
        _replace(content, path)
    except OSError as problem:
        remedy = REMEDIES.get(problem.errno or 0, "Try another folder.")
        reason = problem.strerror or str(problem)
        raise OutputError(f"{path} could not be written ({reason}). {remedy}") from problem


def _replace(content: bytes, path: Path) -> None:
    temporary = path.with_name(f".{secrets.token_hex(8)}.tmp")
    try:
        with temporary.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.replace(path)
    finally:
        temporary.unlink(missing_ok=True)
