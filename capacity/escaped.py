r"""Whatever is printed passes through here: no text from a file steers the reader's terminal.

Names come from workbooks, plan files and file names that somebody else may have made. Control
characters, escape sequences, marks that turn the direction of writing, and halves of
characters are shown as what they are, such as ``\x1b`` or ``\u202e``.
"""

import errno
import io
import os
import sys
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import TextIO

ASCII = "ascii"


def escaped(text: str) -> str:
    """Return the text on one line; what cannot be seen is written out, blanks of any kind are one.

    What counts as visible is ``str.isprintable``: neither control, format, surrogate, private
    nor unassigned characters.
    """
    return text if text.isprintable() else "".join(map(_visible, text))


def encodable(text: str, encoding: str | None) -> str:
    r"""Return the text with what an encoding lacks written out, such as ``\u0141``."""
    known = encoding or ASCII
    try:
        return text.encode(known, errors="backslashreplace").decode(known)
    except LookupError:
        return text.encode(ASCII, errors="backslashreplace").decode(ASCII)


def unescaped(stream: TextIO) -> TextIO:
    """Return the stream below, for who draws on a terminal and escapes every text itself."""
    return stream.stream if isinstance(stream, EscapingStream) else stream


class EscapingStream(io.TextIOBase):
    """A text stream that escapes all that goes through; line feeds end lines.

    It never fails: ``is_lost`` when nobody reads it any more; ``fault`` is why something could not
    be written, if that is worth saying.
    """

    def __init__(self, stream: TextIO) -> None:
        """Write to a stream."""
        super().__init__()
        self.stream = stream
        self.fault: OSError | None = None
        self.is_lost = False

    @property
    def encoding(self) -> str:  # type: ignore[override]  # an attribute there, read only here
        """The encoding of the stream below."""
        return self.stream.encoding

    @property
    def errors(self) -> str | None:  # type: ignore[override]
        """How the stream below meets what it cannot encode."""
        return self.stream.errors

    def write(self, text: str) -> int:
        """Write a text; return how many characters it had."""
        if not isinstance(text, str):
            raise TypeError("a text is wanted here")
        lines = "\n".join(map(escaped, text.split("\n")))
        if not self.is_lost:
            try:
                self.stream.write(encodable(lines, self.encoding))
            except OSError as fault:
                self._lose(fault)
        return len(text)

    def writable(self) -> bool:
        """Return that it can be written to."""
        return True

    def flush(self) -> None:
        """Flush the stream below."""
        if not self.is_lost:
            try:
                self.stream.flush()
            except OSError as fault:
                self._lose(fault)

    def _lose(self, fault: OSError) -> None:
        """Go on without a reader: what is printed is lost then, the work and its files are not.

        A reader who has read enough, such as ``head``, is no ``fault`` to speak of. What the
        stream below still holds goes nowhere, so that the interpreter can end in peace.
        """
        self.is_lost = True
        self.fault = None if fault.errno == errno.EPIPE else fault
        with suppress(OSError, ValueError):  # a stream without a file
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, self.stream.fileno())
            os.close(nowhere)

    def isatty(self) -> bool:
        """Return whether the stream below is a terminal."""
        return self.stream.isatty()

    def fileno(self) -> int:
        """Return the number of the file below."""
        return self.stream.fileno()


@contextmanager
def escaped_streams() -> Iterator[None]:
    """Put such streams in the place of standard output and standard error."""
    before = sys.stdout, sys.stderr
    if sys.stdout is not None:  # a program without a console has none
        sys.stdout = EscapingStream(sys.stdout)
    if sys.stderr is not None:
        sys.stderr = EscapingStream(sys.stderr)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before


def _visible(character: str) -> str:
    if character.isprintable():
        return character
    if character == "\t" or unicodedata.category(character) == "Zs":
        return " "
    return ascii(character)[1:-1]
