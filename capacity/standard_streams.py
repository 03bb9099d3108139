"""Standard streams that were closed before the program began."""

import os


def keep_their_numbers() -> None:
    """Let nothing else have the numbers 0, 1 and 2.

    A file or a pipe that is opened while one of them is free gets it, and what a library prints
    would go into that.
    """
    while True:
        try:
            number = os.open(os.devnull, os.O_RDWR)
        except OSError:
            return
        if number > 2:
            os.close(number)
            return
        os.set_inheritable(number, True)
