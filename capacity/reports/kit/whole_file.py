"""Write a file whole or not at all."""

import errno
import os
import secrets
import shutil
import stat
import sys
from contextlib import suppress
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
    errno.EDQUOT: "Your share of the disk is used up: make room or name a folder on another one.",
    errno.EFBIG: "Files may not be as large as that here: raise the limit (ulimit -f).",
    errno.ELOOP: "Its links lead back to themselves: name another file.",
    errno.ENAMETOOLONG: "The name is too long: choose a shorter one.",
}
"""What to do about the failures that people meet."""


def write_whole(content: bytes, path: Path) -> None:
    """Replace the file with the content in one step.

    The content goes to a temporary file in the same folder, which then takes the place of the
    old file; readers see the old file or the new one, never a half of either. A symbolic link
    stays, and the file that it leads to is replaced; who may do what with a file stays too.

    Raises
    ------
    OutputError
        When the file cannot be written; the old one, if any, is untouched and nothing is left
        behind.
    """
    try:
        target = _target_of(path)
        _replace(content, target)
    except (OSError, UnicodeEncodeError) as problem:
        raise could_not_be_written(path, problem) from problem


def refuse_unwritable(path: Path) -> None:
    """Say before the work that a file cannot be written, as far as can be seen; nothing is made.

    Raises
    ------
    OutputError
        When its folder is not there or may not be written to, the disk is full or can only be
        read, the name is too long, or what stands there may not be replaced.
    """
    try:
        target = _target_of(path)
        folder = target.parent
        if not folder.exists():
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT))
        if not folder.is_dir():
            raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR))
        if not os.access(folder, os.W_OK | os.X_OK):
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        disk = shutil.disk_usage(folder)
        if disk.total and not disk.free:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    except (OSError, UnicodeEncodeError) as problem:
        raise could_not_be_written(path, problem) from problem


def _target_of(path: Path) -> Path:
    """Return the file at the end of all links; raises ``OSError`` if it cannot be replaced."""
    try:
        target = path.resolve()
    except RuntimeError as loop:
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP)) from loop
    if target.exists() and not target.is_file():
        kind = "a folder" if target.is_dir() else "not a plain file"
        raise OutputError(f"{path} is {kind} and cannot be replaced. Name a file.")
    if target.exists() and not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    return target


def could_not_be_written(path: Path, problem: OSError | UnicodeEncodeError) -> OutputError:
    """Return what to tell a person of a file, or a folder, that could not be written."""
    if isinstance(problem, UnicodeEncodeError):
        return OutputError(
            f"{path} could not be written (file names cannot have all of these letters here). "
            "Choose a name of plain letters."
        )
    remedy = REMEDIES.get(problem.errno or 0, "Try another folder.")
    reason = problem.strerror or str(problem)
    return OutputError(f"{path} could not be written ({reason}). {remedy}")


def _replace(content: bytes, path: Path) -> None:
    before = path.stat() if path.exists() else None
    temporary = path.with_name(f".{secrets.token_hex(8)}.tmp")
    try:
        with temporary.open("xb") as file:
            if before is not None:
                _as_before(temporary, before)
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.replace(path)
    finally:
        with suppress(OSError):  # the fault before it is the one to tell
            temporary.unlink(missing_ok=True)


def _as_before(path: Path, before: os.stat_result) -> None:
    """Give a file the owner and the mode of the one that it replaces, where that is possible."""
    if sys.platform != "win32":  # which has other owners
        with suppress(OSError):
            now = path.stat()
            if (now.st_uid, now.st_gid) != (before.st_uid, before.st_gid):
                os.chown(path, before.st_uid, before.st_gid)
    with suppress(OSError):  # no modes on some disks
        path.chmod(stat.S_IMODE(before.st_mode))
