"""Whose a file is and who else may use it, where the system knows owners and modes."""

import os
import stat
import sys

OTHERS = 0o077
"""The bits of a mode that let others do anything."""

if sys.platform == "win32":
    # What lies below a user's own folder is closed to other users by the system itself.
    TO_READ = os.O_RDONLY | os.O_BINARY
    TO_MAKE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_BINARY

    def is_ours(told: os.stat_result) -> bool:
        """Return whether a file or folder belongs to this user."""
        return True

    def is_open_to_others(told: os.stat_result) -> bool:
        """Return whether others may do anything with a file or folder."""
        return False

else:
    TO_READ = os.O_RDONLY | os.O_NOFOLLOW
    TO_MAKE = os.O_WRONLY | os.O_CREAT | os.O_EXCL

    def is_ours(told: os.stat_result) -> bool:
        """Return whether a file or folder belongs to this user."""
        return told.st_uid == os.getuid()

    def is_open_to_others(told: os.stat_result) -> bool:
        """Return whether others may do anything with a file or folder."""
        return bool(stat.S_IMODE(told.st_mode) & OTHERS)
