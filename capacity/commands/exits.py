"""What the command ``capacity`` ends with; numbers from 64 on as in BSD's ``sysexits``.

64 is its EX_USAGE, 70 EX_SOFTWARE, 71 EX_OSERR and 73 EX_CANTCREAT; from memory, not checked
against the text.
"""

from enum import IntEnum


class Exit(IntEnum):
    """What the command ends with."""

    PLANNED = 0
    INPUT_ERRORS = 1
    IMPOSSIBLE = 2
    OUT_OF_TIME = 3
    USAGE = 64
    FAULT = 70
    NO_MEMORY = 71
    CANNOT_WRITE = 73


class Ended(Exception):
    """The command has nothing more to do; ends in ``cli``, and no caller from Python meets it."""

    def __init__(self, code: Exit) -> None:
        """Leave with a code."""
        super().__init__(code)
        self.code = code
